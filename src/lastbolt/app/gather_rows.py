"""Which parts rows may have fasteners in this joint, and why each is taken so.

A row is *wholly* this joint's when a person ties it so, when the walk names as many places for it as it
lists, or when the step that parts the joint takes it out; *partly* when only some of that is said; *maybe*
when only its size fits. Rows elsewhere that only fit by size are gathered into one line per size.
"""

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.gather_left_out import kept_open, left_out
from lastbolt.app.gather_tables import Tables, TableSays
from lastbolt.app.joint_names import HowNamed, faces_of, said_of_joint
from lastbolt.app.lists_whole import lists_not_read_whole
from lastbolt.app.removals import Belongs, Removal, removal_words, tallied
from lastbolt.app.ties_of_rows import ties_of_rows
from lastbolt.tally.layout import fits, whole_kind
from lastbolt.tally.ledger import cited
from lastbolt.words.answer import TakenAs
from lastbolt.words.applies import applies_to
from lastbolt.words.citation import PdfPlace
from lastbolt.words.engine import Engine
from lastbolt.words.evidence import EvidencePlace, Line, ListRead, Printed
from lastbolt.words.joint import Tie, Walk
from lastbolt.words.machine import Machine, PartsRow
from lastbolt.words.quantity import Kind, Quantity

MOST_TOLD = 3
"""Rows of other sizes that are named."""
SAME_ROW = tuple[str, str, Kind]


class Reasoned(Struct, frozen=True):
    """A line and why it was taken so; `what` it is, where its own words are none; `by_hand`: who ties it."""

    line: Line
    why: str
    what: str = ""
    by_hand: str = ""


class Rows(Struct, frozen=True):
    """The lines of the evidence; `line_of` leads from a row's id to its line's id."""

    lines: tuple[Line, ...]
    lists: tuple[ListRead, ...]
    taken_as: tuple[TakenAs, ...]
    line_of: dict[str, str]
    figures: tuple[str, ...]
    """The parts figures that this joint's own rows stand in."""


class RowReader:
    """Turns the parts rows of a model into the lines of one joint's evidence."""

    def __init__(
        self,
        machine: Machine,
        engine: Engine | None,
        variant: str,
        naming: dict[str, HowNamed] | None = None,
        tied: frozenset[str] = frozenset(),
    ) -> None:
        """`tied`: rows that somebody ties to the joint; they are kept, even if for other engines."""
        self.machine = machine
        self.naming = naming or {}
        self.said_of_joint: dict[str, str] = {}
        serial = engine.serial if engine else None
        fasteners = [row for row in machine.rows if tallied(row)]
        others = {row.id for row in fasteners if applies_to(row.applies, variant, serial) == "no"} - tied
        self.rows = [row for row in fasteners if row.id not in others]
        self.for_others = [row for row in fasteners if row.id in others]
        self.sources = {source.id: source for source in machine.sources}
        self.figure_number = {figure.id: figure.number for figure in machine.figures}

    def read(
        self, places: tuple[EvidencePlace, ...], walks: tuple[Walk, ...], removed: tuple[Removal, ...]
    ) -> Rows:
        """The lines, with what each was taken as and why."""
        self.tables = Tables(self.machine, places, self.naming)
        self.said_of_joint = said_of_joint(self.machine, faces_of(walks))
        groups = self._same_rows()
        line_of = {row.id: rows[0].id for rows in groups for row in rows}
        ties = ties_of_rows(walks, line_of)
        named = {row for removal in removed for row in removal.rows}
        made: list[Reasoned] = []
        rest: list[list[PartsRow]] = []
        for rows in groups:
            ids = {row.id for row in rows}
            taken = self._line(rows, places, ties.get(rows[0].id), removed)
            if taken.line.belongs != "maybe" or (named & ids and _fits_somewhere(taken.line.kind, places)):
                made.append(taken)
            else:
                rest.append(rows)
        made += self._of_the_rest(rest, [taken.line for taken in made], places, removed)
        own = _own(taken.line for taken in made)
        figures = {row.figure for row in self.rows if line_of[row.id] in own or row.figure in self.naming}
        lines = tuple(taken.line for taken in made)
        labels = {place.id: place.label for place in places}
        taken_as = (
            *(taken_row(taken, labels) for taken in made),
            *left_out(self.for_others, self.machine, figures, self.words),
            *kept_open(self.rows, figures, self.words),
        )
        return Rows(lines, self._lists(lines, line_of), taken_as, line_of, tuple(sorted(figures)))

    def _same_rows(self) -> list[list[PartsRow]]:
        """Rows that are one row in two sources (a printed list and its table), together."""
        groups: dict[SAME_ROW, list[PartsRow]] = {}
        for row in self.rows:
            kind = row.kind or Kind()
            number = self.figure_number.get(row.figure) or row.figure.rsplit("/", 1)[-1]
            number = number if number.strip("-") else f"{row.part_number or row.id}"
            key = (number, row.item or row.id, Kind(whole_kind(kind).what, kind.thread, kind.length_mm))
            same = groups.setdefault(key, [])
            if any(other.source == row.source for other in same):
                groups[(row.id, row.item, kind)] = [row]
            else:
                same.append(row)
        return list(groups.values())

    def words(self, row: PartsRow) -> str:
        """ "figure 7 (Pump bracket), item 3"."""
        figure = next((figure for figure in self.machine.figures if figure.id == row.figure), None)
        number = figure.number if figure else row.figure.rsplit("/", 1)[-1]
        title = f" ({figure.title})" if figure and figure.title else ""
        return f"figure {number}{title}, item {row.item}" if number else f"item {row.item}"

    def _printed(self, row: PartsRow) -> Printed:
        source = self.sources.get(row.source)
        citation = row.citations[0] if row.citations else None
        page = citation.place.pdf_page if citation and isinstance(citation.place, PdfPlace) else row.figure
        lineage = source.lineage if source else row.source
        title = source.title if source else row.source
        reading = f"{title}, page or figure {page}"
        return Printed(
            row.quantity, title, lineage, reading, replace(citation, title=title) if citation else None
        )

    def _line(
        self,
        rows: list[PartsRow],
        places: tuple[EvidencePlace, ...],
        tie: Tie | None,
        removed: tuple[Removal, ...],
    ) -> Reasoned:
        row = rows[0]
        ids = {one.id for one in rows}
        at = tuple(place.id for place in places if ids & set(place.lines))
        said = self.tables.say(rows, self.figure_number.get(row.figure) or row.figure)
        table = next((one for one in said if one.places), None) if tie is None and not at else None
        line = Line(
            row.id,
            row.kind or Kind(),
            (*(self._printed(one) for one in rows), *(one.printed for one in said)),
            places=tuple(
                dict.fromkeys((*(tie.places if tie else ()), *at, *(table.places if table else ())))
            ),
            words=self.words(row),
            citation=self._printed(row).citation,
            remarks=_remarks(rows, said),
        )
        if table is not None:
            by = cited(table.printed.source, table.printed.citation)
            why = f"taken as wholly this joint's because {by} has it at {table.row.positions}"
            tied = replace(
                line, belongs="wholly", tied_by=by,
                tied_lineage=table.printed.lineage, tied_reading=table.printed.reading,
            )  # fmt: skip
            return Reasoned(tied, why)
        where = next((self.said_of_joint[one] for one in ids if one in self.said_of_joint), "")
        if where and tie is None and not at:
            why = f"taken as wholly this joint's because {where} says that it belongs to it"
            tied = replace(line, belongs="wholly", tied_by=where)
            return Reasoned(tied, why)
        kinds = [place.kind for place in places if place.kind is not None]
        fitting = not places or _matches_any(line.kind, kinds) or len(kinds) < len(places)
        its_own = [removal for removal in removed if ids & set(removal.rows) and fitting]
        belongs, by, why = _tie_of(line, row.quantity, tie, at, its_own)
        by_hand = tie.by if tie is not None else ""
        return Reasoned(replace(line, belongs=belongs, tied_by=by), why, by_hand=by_hand)

    def _of_the_rest(
        self,
        rest: list[list[PartsRow]],
        made: list[Line],
        places: tuple[EvidencePlace, ...],
        removed: tuple[Removal, ...],
    ) -> list[Reasoned]:
        """Lines of the rows that nobody ties: that fit by size, of the joint's own figures, and the others.

        A row that stands in a figure with rows of the joint, and of which no step says where it goes, fits
        none of the places that are known; but the list is no witness that there is none such.
        """
        kinds = [place.kind for place in places if place.kind is not None] + [line.kind for line in made]
        blank = any(place.kind is None for place in places)
        named = {row for removal in removed for row in removal.rows}
        touched = {row.figure for row in self.rows if row.id in named or row.figure in self.naming}
        own = _own(made)
        figures = {row.figure for row in self.rows if row.id in own}
        told = _rows_of_steps(self.machine)
        far: list[list[PartsRow]] = []
        beside: list[list[PartsRow]] = []
        others: list[list[PartsRow]] = []
        for rows in rest:
            here = {row.figure for row in rows}
            if _matches_any(rows[0].kind, kinds) or (blank and here & touched):
                far.append(rows)
            elif here & figures and not any(row.id in told for row in rows):
                beside.append(rows)
            else:
                others.append(rows)
        return [
            *self._by_size_only(far, "may belong, only the size fits"),
            *self._by_size_only(
                beside, "may belong: its figure is the joint's, and no step says where it goes"
            ),
            *self._of_other_sizes(others, removed),
        ]

    def _by_size_only(self, groups: list[list[PartsRow]], why: str) -> list[Reasoned]:
        """Rows that nobody ties, one line per size: any number of them up to their sum may be here."""
        by_kind: dict[Kind, list[PartsRow]] = {}
        for rows in groups:
            by_kind.setdefault(whole_kind(rows[0].kind or Kind()), []).append(rows[0])
        made = []
        for kind, rows in by_kind.items():
            where = "; ".join(self.words(row) for row in rows[:3]) + (" and others" if len(rows) > 3 else "")
            counts = [row.quantity for row in rows]
            known = all(count.high is not None and count.per in ("", "figure") for count in counts)
            total = sum(count.high or 0 for count in counts)
            first = self._printed(rows[0])
            quantity = Quantity("range", 0, total, words=f"{total} in all") if known else Quantity()
            printed = Printed(quantity, first.source, first.lineage, first.reading, first.citation)
            line = Line(f"by size/{rows[0].id}", kind, (printed,), words=where, citation=first.citation)
            made.append(Reasoned(line, why))
        return made

    def _of_other_sizes(self, groups: list[list[PartsRow]], removed: tuple[Removal, ...]) -> list[Reasoned]:
        """One line for all rows that fit no known place: none speaks against one where nobody listed a place.

        It names the rows first that the plan's own steps take out.
        """
        if not groups:
            return []
        by_step = {row: removal_words(removal) for removal in removed for row in removal.rows}
        rows = sorted((rows[0] for rows in groups), key=lambda row: row.id not in by_step)
        told = [
            f"{self.words(row)}, {(row.kind or Kind()).words()}"
            + (f" ({by_step[row.id]} removes it)" if row.id in by_step else "")
            for row in rows[:MOST_TOLD]
        ]
        more = f" and {len(rows) - MOST_TOLD} more" if len(rows) > MOST_TOLD else ""
        words = f"Of another size than any place known here: {'; '.join(told)}{more}."
        printed = self._printed(rows[0])
        line = Line(
            f"other sizes/{rows[0].id}",
            Kind(),
            (),
            words=words,
            citation=printed.citation,
            rest_of_list=len(rows),
        )
        why = "of another size than any place known here; only a round speaks against one at a further place"
        return [Reasoned(line, why, f"{'; '.join(told)}{more}")]

    def _lists(self, lines: tuple[Line, ...], line_of: dict[str, str]) -> tuple[ListRead, ...]:
        """The parts lists that hold this joint's own rows and that were read whole."""
        own = _own(lines)
        holding = {row.source for row in self.rows if line_of[row.id] in own}
        unread = lists_not_read_whole(self.machine)
        return tuple(
            ListRead(source.title, source.lineage)
            for source in self.machine.sources
            if source.role == "parts list" and source.id in holding and source.id not in unread
        )


def taken_row(taken: Reasoned, labels: dict[str, str]) -> TakenAs:
    """What a line was taken as, and why; `labels`: place -> label."""
    line = taken.line
    what = taken.what or f"{line.words}, {line.kind.words()}"
    count = line.printed[0].quantity.low if line.printed else None
    return TakenAs(
        line.id,
        f"{what}: {taken.why}",
        tuple(printed.citation for printed in line.printed if printed.citation),
        pieces=f"{count} x {line.kind.words()}" if count else line.kind.words(),
        places=tuple(labels.get(place, place) for place in line.places),
        sure=line.belongs != "maybe",
        what=what,
        row=line.words,
        reason=taken.why,
        tied_by=taken.by_hand,
    )


def _rows_of_steps(machine: Machine) -> set[str]:
    """Rows that some step names."""
    return {
        row
        for procedure in machine.procedures
        for step in procedure.steps
        for mention in step.mentions
        for row in mention.rows
    }


def _own(lines: Iterable[Line]) -> set[str]:
    return {line.id for line in lines if line.belongs != "maybe"}


def _tie_of(
    line: Line, printed: Quantity, tie: Tie | None, at: tuple[str, ...], removed: list[Removal]
) -> tuple[Belongs, str, str]:
    """How far the row belongs, who says so, and why in words."""
    how: Belongs
    if tie is not None:
        how = "wholly" if tie.wholly else "partly"
        return how, tie.by, f"taken as {how} this joint's because {tie.by or 'the walk'} ties it"
    exact = printed.high if printed.low == printed.high and printed.per in ("", "figure") else None
    if at:
        how = "wholly" if exact is not None and len(at) >= exact else "partly"
        count = f"{len(at)} place" + ("s" if len(at) > 1 else "")
        return how, "the walk", f"taken as {how} this joint's because the walk names {count} for it"
    for removal in removed:
        if removal.why:
            step = removal_words(removal)
            return (
                removal.how, step,
                f"taken as {removal.how} this joint's because {step} removes it: {removal.why}",
            )  # fmt: skip
        if removal.parts:
            low = removal.mention.quantity.low
            how = "wholly" if low is None or low == exact else "partly"
            step = removal_words(removal)
            return how, step, f"taken as {how} this joint's because {step}, which parts it, removes it"
    if removed:
        return "maybe", "", f"may belong: its size fits and {removal_words(removed[0])} removes it"
    return "maybe", "", "may belong, only the size fits"


def _remarks(rows: list[PartsRow], said: tuple[TableSays, ...]) -> tuple[str, ...]:
    """What stands beside the row in list and table, but for what is said elsewhere (single use)."""
    told = [row.remarks for row in rows if row.remarks and not row.renew]
    told += [f"{one.row.table}: {one.row.positions}" for one in said if one.row.positions]
    return tuple(dict.fromkeys(told))


def _fits_somewhere(kind: Kind, places: tuple[EvidencePlace, ...]) -> bool:
    return any(fits(place, whole_kind(kind)) for place in places)


def _matches_any(kind: Kind | None, kinds: list[Kind]) -> bool:
    return kind is not None and any(whole_kind(kind).matches(whole_kind(other)) != "no" for other in kinds)
