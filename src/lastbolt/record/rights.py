"""Who may write what. Only the server writes who joined and what the job is."""

from lastbolt.record.kinds import KIND_OF

SERVER_ONLY = ("opened", "joined")
_PARTS_ROOM = ("photo", "counted", "found bad", "renewed")


def may(role: str, tag: str) -> bool:
    """Whether one of this role may write an event of this word.

    >>> may("trainee", "took out"), may("trainee", "override"), may("visitor", "looked")
    (True, False, False)
    """
    kind = KIND_OF.get(tag)
    if kind is None or tag in SERVER_ONLY:
        return False
    if role == "instructor":
        return True
    if role == "trainee":
        return kind != "decision" or tag in ("closing head", "signed")
    return role == "parts room" and tag in _PARTS_ROOM
