"""Which size of the sheet a person means: by its number, its id, or enough of the source's words."""

from collections.abc import Sequence

from msgspec import Struct

from lastbolt.measuring.dimensions import dimension_of, is_which, words_of
from lastbolt.words.readings import Size


class Meant(Struct, frozen=True):
    """The size, and which one of several alike; without a size, those that it may be."""

    size: Size | None = None
    of: str = ""
    near: tuple[Size, ...] = ()


def meant(what: str, sizes: Sequence[Size]) -> Meant:
    """The one size that the words fit; words that only say which one ("cylinder 2") may stand among them.

    Every other word must stand in the source's name. Where several fit, the one that has no further words is
    meant, if there is one; else nobody is guessed.
    """
    said = what.strip()
    head, _, rest = said.partition(" ")
    if head.rstrip(".").isdigit() and (not rest or head.endswith(".")):
        found = [one for one in sizes if one.number == int(head.rstrip("."))]
        return Meant(found[0], rest.strip()) if found else Meant()
    exact = [one for one in sizes if one.limit == said]
    if exact:
        return Meant(exact[0])
    ranked = sorted(_fits(words_of(said), sizes), key=lambda fit: fit[:2])
    if not ranked:
        return Meant(near=_near(said, sizes))
    best = [fit for fit in ranked if fit[0] == ranked[0][0]]
    whole = [fit for fit in best if fit[1] == 0]
    if len(best) == 1 or len(whole) == 1:
        fit = (whole or best)[0]
        return Meant(fit[3], " ".join(fit[2]))
    return Meant(near=tuple(fit[3] for fit in best))


_Fit = tuple[int, int, tuple[str, ...], Size]
"""How many words are left over, how many of the source's are not said, those left over, the size."""


def _fits(said: tuple[str, ...], sizes: Sequence[Size]) -> list[_Fit]:
    found: list[_Fit] = []
    for one in sizes:
        named = words_of(one.what)
        kind = set(_kinds(said, one))
        left = tuple(word for word in said if word not in named and word not in kind)
        if len(left) == len(said) or not (not left or any(map(is_which, left))):
            continue
        if any(not is_which(word) and not _goes_with(word, left) for word in left):
            continue
        found.append((len(left), sum(word not in said for word in named), left, one))
    return found


def _goes_with(word: str, left: tuple[str, ...]) -> bool:
    """Whether a number stands right behind the word: "piston 2"."""
    at = left.index(word)
    return at + 1 < len(left) and left[at + 1].isdigit()


def _kinds(said: tuple[str, ...], size: Size) -> tuple[str, ...]:
    """Words of the kind of size, where the person calls it by another name: "end play" for "end float"."""
    kind = dimension_of(size.what)
    if size.dimension != kind.name or dimension_of(" ".join(said)).name != size.dimension:
        return ()
    return tuple(word for name in kind.names if set(words_of(name)) <= set(said) for word in words_of(name))


def _near(said: str, sizes: Sequence[Size]) -> tuple[Size, ...]:
    """Those that share most words, for a hint."""
    words = set(words_of(said))
    shared = [(len(words & set(words_of(one.what))), one) for one in sizes]
    most = max((number for number, _ in shared), default=0)
    return tuple(one for number, one in shared if number == most and most)[:3]
