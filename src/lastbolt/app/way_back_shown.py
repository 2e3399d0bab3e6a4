"""The way back and what to have ready, as the sheet shows them."""

from collections.abc import Iterable, Sequence

from lastbolt.app.fastening_shown import fastening_at, fastening_words
from lastbolt.app.pages import Remark
from lastbolt.app.shown import Shown
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Fastening, Plan, Ready, Return

NO_WAY_BACK = "LB-W01"
"""The problem that only repeats what has no way back."""
READY = {"tool": "Tool", "supply": "Supply"}
NOTE_IT = "Note how it sat before it comes off (photo, mark)."


def ready_shown(plan: Plan, shown: Shown) -> tuple[Remark, ...]:
    """Tools and supplies, by the section that names them first; then the new parts."""
    named: dict[tuple[str, str, tuple[Citation, ...]], list[Ready]] = {}
    for item in plan.ready:
        named.setdefault((item.kind, item.number, item.citations[:1]), []).append(item)
    tools = tuple(
        Remark(
            f"{READY[kind]}{'s' if kind == 'tool' and len(some) > 1 else ''}: "
            f"{', '.join(item.words for item in some)}",
            f"for {number}" if number else "",
            shown.cites(cited, 1, pictures=False),
        )
        for (kind, number, cited), some in named.items()
    )
    news = (
        Remark(
            f"New: {part.part}" + (f" ({', '.join(part.part_numbers)})" if part.part_numbers else ""),
            part.words or _quoted(part.citations), shown.cites(part.citations, 1, pictures=False),
        )
        for part in plan.way_back.new_parts
    )  # fmt: skip
    return (*tools, *news)


def way_back(plan: Plan, shown: Shown, machine: Machine) -> tuple[Remark, ...]:
    """First how the joint's own fasteners go back; then what has no way back on, the sections that put the
    rest back in the order in which they can be done, and the other torques."""
    back = plan.way_back
    own = [item for item in back.fastenings if item.of in plan.procedures]
    others = [item for item in back.fastenings if item.of not in plan.procedures]
    none = [item for item in back.returns if item.how == "none"]
    said = [_fastening(item, shown) for item in own]
    if none:
        parts = ", ".join(dict.fromkeys(item.part for item in none))
        places = shown.cites(
            (one for item in none for one in item.off_citations[:1]), len(none), pictures=False
        )
        said.append(Remark(f"No source says how this goes back on: {parts}.", NOTE_IT, places))
    said += _sections(plan, shown, machine)
    return (*said, *(_fastening(item, shown) for item in others))


def _fastening(item: Fastening, shown: Shown) -> Remark:
    words = fastening_words(item)
    return Remark(f"{fastening_at(item)}: {words}", "", shown.cites(item.citations, 1, pictures=False))


def _sections(plan: Plan, shown: Shown, machine: Machine) -> list[Remark]:
    """What goes back by each section, the sections in the order in which they can be done."""
    titles = {one.id: f"{one.number} {one.title}".strip() for one in machine.procedures}
    titles |= {one.id: f"{one.number} {one.title}".strip() for one in machine.sections}
    owner = {step.id: one.id for one in machine.procedures for step in one.steps}
    by: dict[str, list[Return]] = {one: [] for one in plan.way_back.procedures}
    for item in plan.way_back.returns:
        if item.how not in ("none", "torque table"):
            to = next(iter(item.on_by), "")
            by.setdefault(owner.get(to, to), []).append(item)
    return [_section(titles.get(one, one), some, shown) for one, some in by.items() if some]


def _section(title: str, items: Sequence[Return], shown: Shown) -> Remark:
    exceptions = dict.fromkeys(one for item in items for one in item.exceptions)
    reverse = "reverse of removal" if any(item.how == "reverse of removal" for item in items) else ""
    but = f"except: {'; '.join(exceptions)}" if exceptions else ""
    parts = ", ".join(dict.fromkeys(item.part for item in items))
    return Remark(
        f"{title}: {parts}" if title else parts,
        ", ".join(part for part in (reverse, but) if part),
        shown.cites(_each_first(items), 1, pictures=False),
    )


def _each_first(items: Iterable[Return]) -> tuple[Citation, ...]:
    return tuple(one for item in items for one in item.on_citations[:1])


def _quoted(citations: tuple[Citation, ...]) -> str:
    return citations[0].words if citations else ""
