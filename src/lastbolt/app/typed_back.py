"""What typed lines say that only the way back asks for: how tight, laid in, renewed, lost, won't close.

1-16 stage 1                  tightened to a stage, and not to the end
1-16 final                    tightened to the end ("final and marked": the paint mark is on)
3 slackened                   slack, and still in
laid in 2 cloths, crankcase opening        must come out again before closing
took away 2 cloths            out again
renewed gasket, gearcase      a new one went in (a row of the parts list, its number, or a name)
renewed 3 x Q222-606
lost key                      cannot go back; also "damaged ...": one is to be ordered
won't close                   work stops
found why: dirt in the joint  and goes on
"""

import re
from collections.abc import Callable, Mapping
from typing import NamedTuple

from lastbolt.app.typed_places import said_of_places
from lastbolt.planning.names import same_name
from lastbolt.words.job import (
    Event,
    FoundBad,
    FoundWhy,
    LaidIn,
    Renewed,
    Slackened,
    TakenAway,
    Tightened,
    WontClose,
)
from lastbolt.words.machine import Machine, PartsRow

_TIGHT = re.compile(
    r"^(.*?)\s+(?:(?:tightened\s+)?(?:to\s+)?stage\s+(\d{1,2})|(?:tightened\s+)?(?:final|to the end)"
    r"(\s+and\s+(?:marked|painted))?|(slackened))$",
    re.I,
)
_COUNT = r"(?:(\d{1,3})\s*(?:x|×)?\s+|an?\s+|the\s+)?"
_LAID = re.compile(rf"^laid\s+in:?\s+{_COUNT}([^\d,:][^,:]*?)(?:\s*[,:]\s*(\S.*))?$", re.I)
_AWAY = re.compile(rf"^(?:took|taken)\s+away:?\s+{_COUNT}([^\d,:][^,:]*?)(?:\s*[,:]\s*(\S.*))?$", re.I)
_NEW = re.compile(rf"^renewed:?\s+{_COUNT}(\S.*)$", re.I)
_BAD = re.compile(rf"^(lost|damaged):?\s+{_COUNT}(\S.*)$", re.I)
_WONT = re.compile(r"^(?:it\s+)?(?:won'?t|will not|does not|doesn'?t)\s+close$", re.I)
_WHY = re.compile(r"^found why:?\s+(\S.*)$", re.I)
_SEEN = " in"
"""A word that places can be said with, to read them alone."""


class _Line(NamedTuple):
    """A line's words with what its events need: which joint and places, the parts list, who says it."""

    words: str
    joint: str
    places: Mapping[str, str]
    machine: Machine
    event: str
    by: str


def said_of_way_back(
    words: str, joint: str, places: Mapping[str, str], machine: Machine, who: tuple[str, str]
) -> Event | None:
    """The event of one line; none when it says nothing of these.

    Args:
        words: the line, without its remark
        joint: the id of the joint that its places are of
        places: ids of the joint's places by their labels in lower case; another label is its own id
        machine: the model, whose parts list names what was renewed
        who: the id of the event, and who says it
    """
    said = " ".join(words.replace("\u2019", "'").rstrip(" .").split())
    line = _Line(said, joint, places, machine, *who)
    made = (maker(found, line) for pattern, maker in MAKERS if (found := pattern.match(said)))
    return next(made, None)


def _tightened(found: re.Match[str], line: _Line) -> Event | None:
    at = places_in(found[1], line.places)
    if not at:
        return None
    if found[4]:
        return Slackened(id=line.event, by=line.by, joint=line.joint, places=at)
    stage = int(found[2] or 0)
    return Tightened(
        id=line.event, by=line.by, joint=line.joint, places=at,
        stage=stage, final=not stage, painted=bool(found[3]),
    )  # fmt: skip


def _wont(found: re.Match[str], line: _Line) -> Event:
    return WontClose(id=line.event, by=line.by, joint=line.joint)


def _why(found: re.Match[str], line: _Line) -> Event:
    return FoundWhy(id=line.event, by=line.by, joint=line.joint, cause=found[1])


def _laid(found: re.Match[str], line: _Line) -> Event:
    thing, count = _one(found), _number(found[1])
    return LaidIn(id=line.event, by=line.by, thing=thing, count=count, where=found[3] or "")


def _away(found: re.Match[str], line: _Line) -> Event:
    thing, count = _one(found), _number(found[1])
    return TakenAway(id=line.event, by=line.by, thing=thing, count=count, where=found[3] or "")


def _new(found: re.Match[str], line: _Line) -> Event:
    row = row_named(found[2], line.machine)
    return Renewed(
        id=line.event, by=line.by, part=row.name if row else found[2], row=row.id if row else "",
        part_number=row.part_number if row else "", count=_number(found[1]),
    )  # fmt: skip


def _bad(found: re.Match[str], line: _Line) -> Event:
    row = row_named(found[3], line.machine)
    return FoundBad(
        id=line.event, by=line.by, part=row.name if row else found[3],
        how="lost" if found[1].lower() == "lost" else "damaged",
        row=row.id if row else "", count=_number(found[2]),
    )  # fmt: skip


MAKERS: tuple[tuple[re.Pattern[str], Callable[[re.Match[str], _Line], Event | None]], ...] = (
    (_TIGHT, _tightened), (_WONT, _wont), (_WHY, _why), (_LAID, _laid), (_AWAY, _away), (_NEW, _new),
    (_BAD, _bad),
)  # fmt: skip


def places_in(words: str, places: Mapping[str, str]) -> tuple[str, ...]:
    """The ids of the places that words name: "1-3 and 7"; none when any of it is no place."""
    said = said_of_places(f"{words}{_SEEN}")
    if len(said) != 1 or said[0].far or said[0].saw != "in":
        return ()
    return tuple(dict.fromkeys(places.get(label.casefold(), label) for label in said[0].labels))


def row_named(words: str, machine: Machine) -> PartsRow | None:
    """The row of the parts list with that number, else with just that name, where there is one only."""
    key = words.casefold().strip()
    by_number = [row for row in machine.rows if row.part_number and row.part_number.casefold() == key]
    found = by_number or [row for row in machine.rows if row.name.casefold() == key]
    found = found or [row for row in machine.rows if same_name(row.name, words)]
    return found[0] if len(found) == 1 else None


def _number(said: str | None) -> int:
    return int(said) if said else 1


def _one(found: re.Match[str]) -> str:
    """The thing in the singular: two cloths that go in are the cloths that come out."""
    thing = found[2].strip()
    several = found[1] is not None and int(found[1]) > 1
    return thing[:-1] if several and thing.endswith("s") and not thing.endswith("ss") else thing
