"""What the papers print of this joint: lists and their copies, pages read, ties, steps; and their errors."""

from dataclasses import dataclass, field

from lastbolt.words.evidence import EvidencePlace, Line, ListRead, Printed, StepSaid
from lastbolt.words.quantity import UNSAID, Kind, Quantity, exactly

from .doing import Job, StepPlan
from .world import STRANGE, Spot, TrueLine

LIST, COPY, OTHER, FIGURE, MANUAL = "list A", "list A, reprint", "list B", "figure 7", "manual"
_LINEAGE = {LIST: "A", COPY: "A", OTHER: "B", FIGURE: "F"}


@dataclass(slots=True)
class Papers:
    """The numbers printed, before they become lines: (line, source) -> number and page."""

    number: dict[tuple[str, str], int] = field(default_factory=dict)
    spoilt: set[tuple[str, str]] = field(default_factory=set)
    wrong_steps: dict[str, int] = field(default_factory=dict)
    wholly_wrong: str = ""
    manual_lineage: str = "M"
    lines: list[Line] = field(default_factory=list)
    lists: list[ListRead] = field(default_factory=list)
    step_numbers: dict[str, Quantity] = field(default_factory=dict)
    planned_misprints: list[tuple[str, str]] = field(default_factory=list)


def page_of(line: str, source: str) -> str:
    """The reading that the row of this line came from."""
    return f"{source}, page {1 + int(line[1:]) % 2}"


def write_papers(job: Job) -> Papers | None:
    """All that is printed, with the wanted errors in it; None if one of them cannot happen here."""
    papers = Papers()
    _print_rows(job, papers)
    if job.rng.random() < 0.25:
        papers.manual_lineage = "A"
    if not _spoil(job, papers):
        return None
    for line in job.world.lines:
        if line.listed:
            papers.lines.append(_line(job, papers, line))
    for extra in job.world.extras:
        if job.world.engine_known:
            papers.lines.append(
                Line("E1", extra.actual, belongs="wholly", tied_by="engine file", on_engine=1,
                     on_engine_by="engine file")
            )  # fmt: skip
    _claim_lists(job, papers)
    for step in job.steps:
        papers.step_numbers[step.id] = _step_number(job, papers, step)
    _note_apparent(job, papers)
    return papers


def _print_rows(job: Job, papers: Papers) -> None:
    rng, wanted = job.rng, job.wanted
    must = any(kind in wanted for kind in ("misprint", "misreading", "inherited misprint", "row left out"))
    unread = not must and rng.random() < 0.06
    copy = "inherited misprint" in wanted or rng.random() < 0.3
    other = rng.random() < (0.1 if job.quiet and must else 0.35)
    all_in_one = "row left out" in wanted
    for line in job.world.lines:
        if not line.listed or unread:
            continue
        if not all_in_one and not must and rng.random() < 0.12:
            papers.number[line.id, FIGURE] = line.count
            continue
        papers.number[line.id, LIST] = line.count
        if copy:
            papers.number[line.id, COPY] = line.count
        if other and rng.random() < 0.75:
            papers.number[line.id, OTHER] = line.count


def _spoil(job: Job, papers: Papers) -> bool:
    wanted = job.wanted
    for _ in range(wanted.get("misprint", 0)):
        if not _misprint(job, papers):
            return False
    if "inherited misprint" in wanted and not _inherit(job, papers):
        return False
    if "misreading" in wanted and not _misread(job, papers):
        return False
    if "line not wholly here" in wanted:
        able = [line.id for line in job.world.lines if line.listed and line.elsewhere and line.here]
        if not able:
            return False
        papers.wholly_wrong = able[int(job.rng.random() * len(able))]
        job.hit("line not wholly here", papers.wholly_wrong)
    return True


def _aimed(job: Job, rows: list[tuple[str, str]]) -> list[tuple[str, str]]:
    guilty = {spot.piece.line for spot in job.culprits if spot.piece is not None}
    aimed = [row for row in rows if row[0] in guilty]
    return aimed if aimed and (job.quiet or job.rng.random() < 0.5) else rows


def _wrong(job: Job, line: str, number: int) -> int:
    rng, most = job.rng, job.settings.most_per_line
    guilty = any(spot.piece is not None and spot.piece.line == line for spot in job.culprits)
    if number > 1 and (number >= most or (job.quiet and guilty) or rng.random() < 0.5):
        return number - 1
    return number + (2 if most > number + 1 and rng.random() < 0.2 else 1)


def _misprint(job: Job, papers: Papers) -> bool:
    rng = job.rng
    steps = [
        step
        for step in job.steps
        if step.line and not step.places and step.id not in papers.wrong_steps
        and not any(line.id == step.line and line.known_to_file for line in job.world.lines)
    ]  # fmt: skip
    if steps and rng.random() < 0.3:
        step = steps[int(rng.random() * len(steps))]
        papers.wrong_steps[step.id] = _wrong(job, step.line or "", _by_design(step))
        papers.planned_misprints.append((step.id, MANUAL))
        return True
    rows = [
        row
        for row in papers.number
        if row not in papers.spoilt and not (row[1] == LIST and (row[0], COPY) in papers.number)
    ]
    if not rows:
        return False
    row = (rows := _aimed(job, rows))[int(rng.random() * len(rows))]
    papers.number[row] = _wrong(job, row[0], papers.number[row])
    papers.spoilt.add(row)
    job.hit("misprint", f"{row[0]} in {row[1]}")
    return True


def _inherit(job: Job, papers: Papers) -> bool:
    rows = [row for row in papers.number if row[1] == COPY and row not in papers.spoilt]
    if not rows:
        return False
    line = (rows := _aimed(job, rows))[int(job.rng.random() * len(rows))][0]
    wrong = _wrong(job, line, papers.number[line, LIST])
    for source in (LIST, COPY):
        papers.number[line, source] = wrong
        papers.spoilt.add((line, source))
    job.hit("inherited misprint", f"{line} in lineage A")
    if papers.manual_lineage == "A":
        true = {known.id: known for known in job.world.lines}[line]
        for step in job.steps:
            if step.line == line and not step.places and not true.elsewhere and not true.known_to_file:
                papers.wrong_steps.setdefault(step.id, wrong)
    return True


def _misread(job: Job, papers: Papers) -> bool:
    rows = [row for row in papers.number if row not in papers.spoilt]
    if not rows:
        return False
    first = (rows := _aimed(job, rows))[int(job.rng.random() * len(rows))]
    page = page_of(*first)
    for row in list(papers.number):
        same = row not in papers.spoilt and page_of(*row) == page
        if row == first or (same and job.rng.random() < 0.5):
            papers.number[row] = _wrong(job, row[0], papers.number[row])
            papers.spoilt.add(row)
    job.hit("misreading", page)
    return True


def deviates(line: TrueLine) -> bool:
    """Whether this engine's pieces of the line are not those of the design."""
    return any(
        spot.piece is not None and (not spot.piece.fitted or spot.piece.actual != spot.piece.kind)
        for spot in line.here
    )


def _line(job: Job, papers: Papers, line: TrueLine) -> Line:
    rng = job.rng
    printed = tuple(
        Printed(_quantity(job, number, row in papers.spoilt), row[1], _LINEAGE[row[1]], page_of(*row))
        for row, number in papers.number.items()
        if row[0] == line.id
    )
    if line.elsewhere:
        belongs = "partly" if line.here and rng.random() < 0.6 else "maybe"
        belongs = "wholly" if papers.wholly_wrong == line.id else belongs
    else:
        belongs = "wholly" if rng.random() < 0.8 else "maybe"
    places: tuple[str, ...] = ()
    known = line.known_to_file
    if belongs != "maybe" and not known and rng.random() < 0.3:
        places = tuple(spot.id for spot in line.here if spot.listed)
    on_engine = None
    if known or (not deviates(line) and rng.random() < 0.05):
        fitted = sum(1 for spot in line.here if spot.piece is not None and spot.piece.fitted)
        on_engine = fitted + len(line.elsewhere)
    return Line(
        line.id,
        line.kind,
        printed,
        belongs,  # type: ignore[arg-type]
        "" if belongs == "maybe" else "figure heading",
        places,
        on_engine,
        "" if on_engine is None else "engine file",
    )


def _quantity(job: Job, number: int, spoilt: bool) -> Quantity:
    dice = job.rng.random()
    if spoilt or dice < 0.85:
        return exactly(number)
    if dice < 0.91:
        return Quantity("as required", words="as required")
    if dice < 0.94:
        return Quantity("at least", max(number - 1, 0), None)
    if dice < 0.97:
        return Quantity("range", max(number - 1, 0), number)
    return UNSAID


def _claim_lists(job: Job, papers: Papers) -> None:
    rng, world = job.rng, job.world
    needed = {line.id for line in world.lines if line.here and line.listed}
    rowless = [line for line in world.lines if line.here and not line.listed]
    wanted = "row left out" in job.wanted
    if rowless and not wanted:
        return
    for source in (LIST, COPY, OTHER):
        rows = {row[0] for row in papers.number if row[1] == source}
        if not (needed <= rows and (rows or wanted)) or not (
            rng.random() < 0.5 or (wanted and source == LIST)
        ):
            continue
        papers.lists.append(ListRead(source, _LINEAGE[source]))
        for line in rowless:
            job.hit("row left out", line.kind.words())


def _by_design(step: StepPlan) -> int:
    pieces = [spot.piece for spot in step.covers if spot.piece is not None and spot.piece.by_design]
    return sum(1 for piece in pieces if step.kind is None or piece.kind == step.kind)


def _step_number(job: Job, papers: Papers, step: StepPlan) -> Quantity:
    if step.id in papers.wrong_steps:
        return exactly(papers.wrong_steps[step.id])
    if any(line.known_to_file and any(s in step.covers for s in line.here) for line in job.world.lines):
        return UNSAID
    dice = job.rng.random()
    if dice < 0.72:
        return exactly(_by_design(step))
    return Quantity("as required", words="as required") if dice < 0.8 else UNSAID


def _note_apparent(job: Job, papers: Papers) -> None:
    per_kind: dict[Kind, list[int | None]] = {}
    for line in papers.lines:
        said = {p.quantity.low for p in line.printed if p.quantity.kind == "exactly"}
        number = line.on_engine if line.on_engine is not None else (said.pop() if len(said) == 1 else None)
        per_kind.setdefault(line.kind, []).append(number if line.belongs == "wholly" else None)
    for kind, numbers in per_kind.items():
        if None not in numbers:
            job.apparent[kind] = sum(n for n in numbers if n is not None)


def write_places(job: Job, papers: Papers) -> tuple[EvidencePlace, ...]:
    """The places on the map, with what is said to belong there."""
    rng, named = job.rng, {line.id: line for line in job.world.lines}
    places = []
    for spot in job.world.spots:
        if not spot.listed:
            continue
        kind, lines, piece = None, (), spot.piece
        line = named.get(piece.line or "") if piece is not None else None
        if piece is not None and line is not None and not line.known_to_file:
            dice = rng.random()
            kind = piece.kind if dice < 0.6 else None
            lines = (line.id,) if line.listed and 0.2 < dice < 0.75 else ()
        elif piece is not None and piece.line is None and job.world.engine_known:
            lines = ("E1",) if rng.random() < 0.5 else ()
        places.append(EvidencePlace(spot.id, spot.id[1:], kind, lines))
    return tuple(places)


def write_steps_said(job: Job, papers: Papers) -> tuple[StepSaid, ...]:
    """The steps as printed, with what was recorded of them; notes the misprints among them."""
    said = []
    states = {"done": "done", "ticked": "done", "started": "started"}
    for step in job.steps:
        if not step.written:
            continue
        state = states.get(step.fate, "not recorded")
        if state == "done" and not step.moment:
            state = "not recorded"
        if step.id in papers.wrong_steps and (step.id, MANUAL) in papers.planned_misprints:
            job.hit("misprint", f"step {step.id}")
        said.append(
            StepSaid(
                step.id, step.line, step.kind, papers.step_numbers[step.id], MANUAL, papers.manual_lineage,
                step.places, state, step.by if state == "done" else "", step.moment,  # type: ignore[arg-type]
            )
        )  # fmt: skip
    return tuple(said)


def note_engine(
    job: Job, papers: Papers, places: tuple[EvidencePlace, ...], steps: tuple[StepSaid, ...]
) -> None:
    """Count the engine itself as a root when some paper is untrue of it and its file does not say so."""
    world = job.world
    if not world.engine_odd or world.engine_known:
        return
    said = {line.id: line for line in papers.lines}
    numbered = {step.id for step in steps if step.removes.low is not None}
    for line in world.lines:
        if deviates(line):
            counts = line.listed and any(_bounded(printed) for printed in said[line.id].printed)
            lacking = [s for s in line.here if s.piece is not None and not s.piece.fitted]
            walked = any(s.id in numbered and any(p in s.covers for p in lacking) for s in job.steps)
            odd = any(_contradicts(spot, places) for spot in line.here)
            if counts or walked or odd:
                job.hit("engine not as its papers", "this engine")
    for extra in world.extras:
        same = any(
            line.kind == extra.kind and line.on_engine is None and any(map(_bounded, line.printed))
            for line in papers.lines
        )
        if papers.lists or (same and extra.kind != STRANGE):
            job.hit("engine not as its papers", "this engine")


def _bounded(printed: Printed) -> bool:
    return printed.quantity.low is not None


def _contradicts(spot: Spot, places: tuple[EvidencePlace, ...]) -> bool:
    piece = spot.piece
    return piece is not None and any(
        place.id == spot.id and place.kind is not None and place.kind != piece.actual for place in places
    )
