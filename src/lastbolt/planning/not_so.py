"""Whether a clause says not to do what it names, or only in some case."""

from collections.abc import Iterable

from lastbolt.planning.names import any_of

_ENDS = ".;:"


def not_so(sentence: str, name: str, phrases: Iterable[str]) -> bool:
    """Whether one of the phrases stands before the name in its clause.

    >>> not_so("Push it on by hand. Never draw it on with the screws.", "screws", ("never", "not"))
    True
    >>> not_so("Do not strike it. Remove the screws.", "screws", ("never", "not"))
    False
    """
    low = sentence.lower()
    at = low.find(name.lower())
    if at < 0:
        return False
    start = max(low.rfind(end, 0, at) for end in _ENDS) + 1
    return bool(any_of(low[start:at], phrases))
