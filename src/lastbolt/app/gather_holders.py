"""What else may keep the joint together: from the walk, the joint's figures and the closure's sections."""

from lastbolt.app.gather_job import Heard
from lastbolt.app.holder_words import holder_sort, is_dowel_name
from lastbolt.words.answer import HolderState
from lastbolt.words.joint import Holder, HolderSort, Walk
from lastbolt.words.machine import Machine, Procedure

SORT_ORDER: tuple[HolderSort, ...] = (
    "bridging part", "shaft-end nut", "circlip", "dowel", "fit", "sealant", "other",
)  # fmt: skip
"""In order of likelihood (common practice, no source)."""


def holders_of(
    machine: Machine | None,
    walks: tuple[Walk, ...],
    heard: Heard,
    sections: tuple[tuple[str, ...], tuple[str, ...]],
    figures: tuple[str, ...],
) -> tuple[HolderState, ...]:
    """Every other holder, once, settled or not; `sections`: the closure's procedures and the goal's own."""
    found: dict[str, HolderState] = {}
    for holder in (holder for walk in walks for holder in walk.holders):
        found.setdefault(_key(holder.name), _from_walk(holder, heard))
    faces = {_key(face) for walk in walks for face in walk.faces}
    if machine is not None:
        for state in (*_from_sections(machine, heard, sections), *_from_figures(machine, heard, figures)):
            key = _key(state.name)
            if key not in faces and not any(_same(key, other) for other in found):
                found[key] = state
    return tuple(sorted(found.values(), key=lambda state: SORT_ORDER.index(state.sort)))


def _key(name: str) -> str:
    """The words of a name that say what it is: no numbers, no places, no order."""
    said = {word.strip(",.()").lower() for word in name.split()}
    return " ".join(sorted(word for word in said if len(word) > 2 and not any(c.isdigit() for c in word)))


def _same(a: str, b: str) -> bool:
    """Two names are one part when the words of one all stand in the other."""
    one, other = set(a.split()), set(b.split())
    return one <= other or other <= one


def _settled(heard: Heard, holder: str) -> str | None:
    event = heard.settled.get(holder)
    return None if event is None else f"settled by {event.by}: {event.how}"


def _from_walk(holder: Holder, heard: Heard) -> HolderState:
    how = _settled(heard, holder.id)
    if how is None and holder.settled:
        how = f"settled by {holder.by or 'the walk'}" + (f": {holder.how}" if holder.how else "")
    words = how or holder.words or "not checked"
    return HolderState(holder.id, holder.sort, holder.name, how is not None, words, holder.citations)


def _from_sections(
    machine: Machine, heard: Heard, sections: tuple[tuple[str, ...], tuple[str, ...]]
) -> list[HolderState]:
    """Parts that the closure's other sections take off first: each bridges the joint until it is off."""
    closure, goals = sections
    return [
        state
        for procedure in machine.procedures
        if procedure.id in closure and procedure.id not in goals and procedure.deed in ("remove", "separate")
        for state in _parts_off(procedure, heard)
    ]


def _parts_off(procedure: Procedure, heard: Heard) -> list[HolderState]:
    tick = heard.procedures.get(procedure.id)
    made = []
    for part in procedure.parts:
        sort = holder_sort(part)
        if sort is None:
            continue
        name = f"{procedure.id}#{part}"
        how = _settled(heard, name)
        if how is None and tick is not None and tick.looked:
            how = f"confirmed off by {tick.by}"
        ticked = " (ticked, nobody has looked)" if tick is not None and how is None else ""
        words = how or f"{sort[1]} Section {procedure.number} takes it off{ticked}."
        made.append(HolderState(name, sort[0], part, how is not None, words, procedure.citations))
    return made


def _from_figures(machine: Machine, heard: Heard, figures: tuple[str, ...]) -> list[HolderState]:
    made = []
    for row in machine.rows:
        sort = holder_sort(row.name)
        dowel = is_dowel_name(row.name) or (row.kind is not None and row.kind.what == "dowel")
        if row.figure not in figures or (
            row.kind is not None and not dowel and (sort or ("",))[0] != "circlip"
        ):
            continue
        if dowel:
            sort = holder_sort("dowel")
        if sort is None:
            continue
        how = _settled(heard, row.id)
        made.append(HolderState(row.id, sort[0], row.name, how is not None, how or sort[1], row.citations))
    return made
