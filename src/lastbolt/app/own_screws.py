"""Which parts rows a goal's own step means that names its fasteners only by what they hold.

"Remove the cover screws" has no size and no callout. They are the rows that the section which joins the parts
again fits by size; else the rows of the parts figure whose title names the joint, when no other section takes
or fits them.
"""

from collections.abc import Iterable

from msgspec.structs import replace

from lastbolt.app.joint_names import HowNamed
from lastbolt.app.removals import Removal, tallied
from lastbolt.planning.names import same_part, stems
from lastbolt.tally.layout import whole_kind
from lastbolt.words.machine import Machine, PartsRow, Procedure

JOINING = ("install", "join")


def with_own_screws(
    machine: Machine, removed: Iterable[Removal], goals: tuple[str, ...], naming: dict[str, HowNamed]
) -> tuple[Removal, ...]:
    """The removals, those of the goal that name no size led to their rows where these can be told."""
    removed = tuple(removed)
    own = _OwnScrews(machine, goals, naming, _taken(machine, removed))
    return tuple(own.led(removal) if _names_no_size(removal) else removal for removal in removed)


def _names_no_size(removal: Removal) -> bool:
    kind = removal.mention.kind
    return removal.parts and not removal.rows and kind is not None and kind.thread is None


def _taken(machine: Machine, removed: tuple[Removal, ...]) -> set[str]:
    """Rows all of whose pieces steps of the goal that name them take out: no further step means them."""
    listed = {row.id: row.quantity.high for row in machine.rows}
    counts: dict[str, list[int | None]] = {}
    for removal in removed:
        for row in removal.rows if removal.parts else ():
            counts.setdefault(row, []).append(removal.mention.quantity.low)
    return {
        row
        for row, said in counts.items()
        if None in said or sum(count or 0 for count in said) >= (listed[row] or 0)
    }


class _OwnScrews:
    def __init__(
        self, machine: Machine, goals: tuple[str, ...], naming: dict[str, HowNamed], taken: set[str]
    ) -> None:
        self.machine = machine
        self.taken = taken
        self.naming = naming
        self.titles = {figure.id: figure.title for figure in machine.figures}
        self.number = {figure.id: figure.number for figure in machine.figures}
        own = [procedure for procedure in machine.procedures if procedure.id in goals]
        back = [p for p in machine.procedures if p.id not in goals and _joins_again(p, own)]
        about = {procedure.id for procedure in (*own, *back)}
        self.elsewhere = {
            row for p in machine.procedures if p.id not in about for step in p.steps
            for mention in step.mentions for row in mention.rows
        }  # fmt: skip
        self.fitted: dict[str, str] = {}
        for procedure in back:
            for step in procedure.steps:
                where = f"section {procedure.number} step {step.mark}" if step.mark else procedure.number
                rows = [row for m in step.mentions if m.deed in ("install", "tighten") for row in m.rows]
                self.fitted.update(dict.fromkeys(rows, where))

    def led(self, removal: Removal) -> Removal:
        """The removal with its rows, how surely they are this joint's, and why."""
        kind = removal.mention.kind
        what = whole_kind(kind).what if kind else None
        rows = [
            row for row in self.machine.rows
            if tallied(row) and row.id not in self.elsewhere and row.id not in self.taken and row.kind
            and (what is None or whole_kind(row.kind).what == what)
        ]  # fmt: skip
        said = f'"{removal.step.words.rstrip(".")}" names no size'
        fitted = [row for row in rows if row.id in self.fitted]
        if fitted:
            where = " and ".join(dict.fromkeys(self.fitted[row.id] for row in fitted))
            ids = tuple(row.id for row in fitted)
            return replace(
                removal, rows=ids, how="wholly", why=f"{said}, and {where} fits it again", sure=True
            )
        named = [
            row for row in rows if self.naming.get(row.figure, "no") != "no" and self._held(removal, row)
        ]
        both = [row for row in named if self.naming[row.figure] == "both"]
        chosen = both or named
        if not chosen or (not both and len({(row.figure, row.item) for row in chosen}) > 1):
            return removal
        figure = chosen[0].figure
        title = f"{self.number.get(figure, figure)} ({self.titles.get(figure, '')})"
        why = f"{said}, and the title of figure {title} names what it holds"
        how = "wholly" if both else "partly"
        return replace(removal, rows=tuple(row.id for row in chosen), how=how, why=why)

    def _held(self, removal: Removal, row: PartsRow) -> bool:
        """Whether what the step calls its fasteners by ("cover screws") is in the words of goal or figure."""
        beside = stems(removal.mention.name)[:-1]
        procedure = removal.procedure
        about = {w for name in (procedure.title, *procedure.parts) for w in stems(name)}
        about |= set(stems(self.titles.get(row.figure, "")))
        return all(any(word in other for other in about) for word in beside)


def _joins_again(procedure: Procedure, own: list[Procedure]) -> bool:
    """Whether a section puts together again what one of the goal's takes apart."""
    parts = [part for goal in own for part in goal.parts]
    return procedure.deed in JOINING and any(same_part(a, b) for a in procedure.parts for b in parts)
