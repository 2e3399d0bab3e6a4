"""Differences between the tables of two editions: torques, parts lists, the manual's tables of fasteners."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol, TypeVar

from lastbolt.comparing.pairing import by_keys, folded
from lastbolt.comparing.resting import Resting
from lastbolt.comparing.said import count_said, engines_said, torques_said
from lastbolt.words.changes import About, Change
from lastbolt.words.citation import Citation
from lastbolt.words.machine import ListedPart, PartsRow, Procedure, Step, TableRow, TorqueRow


class Cited(Protocol):
    """What has an id and stands somewhere."""

    @property
    def id(self) -> str: ...
    @property
    def citations(self) -> tuple[Citation, ...]: ...


Row = TypeVar("Row", bound=Cited)
Steps = Sequence[tuple[Procedure, Step]]


def torque_rows(old: Sequence[TorqueRow], new: Sequence[TorqueRow], resting: Resting) -> Iterator[Change]:
    """Changed rows of torque tables, each with the steps that refer to its table."""
    keys = (lambda row: (folded(row.what), row.thread), lambda row: folded(row.what))
    for before, after in by_keys(old, new, keys, lambda row: row.id):
        was, now = _torque_words(before), _torque_words(after)
        if before and after and was == now and _printed(before) != _printed(after):
            was, now = _printed_words(before), _printed_words(after)
        if was != now:
            one = after or before
            assert one is not None
            steps = resting.on_table(before.citations) if before else ()
            yield row_change("torque table", one.what, "torque table", (before, after), (was, now), steps)


def parts_rows(
    old: Sequence[PartsRow], new: Sequence[PartsRow], resting: Resting
) -> tuple[list[Change], list[tuple[str, str]]]:
    """Changed rows of parts lists, each with the steps that speak of it; and items that only moved."""
    keys = (
        lambda row: (row.figure, row.item, row.part_number, row.applies.words),
        lambda row: (row.figure, row.part_number, folded(row.name)) if row.part_number else None,
        lambda row: (row.figure, row.item, folded(row.name)),
        lambda row: (row.figure, row.part_number) if row.part_number else None,
        lambda row: (row.figure, folded(row.name), row.quantity.low),
        lambda row: (row.part_number, folded(row.name)) if row.part_number else None,
        lambda row: (row.figure, row.item),
    )
    changes: list[Change] = []
    moved: list[tuple[str, str]] = []
    for before, after in by_keys(old, new, keys, lambda row: row.id):
        one = after or before
        assert one is not None
        if before and after and _row_words(before) == _row_words(after):
            if _item(before) != _item(after):
                moved.append((_item(before), _item(after)))
            continue
        steps = resting.on_row(before.id) if before else ()
        both = before is not None and after is not None and _item(before) != _item(after)
        said = tuple(
            (f"{_item(row)}: " if both else "") + _row_words(row) if row else "" for row in (before, after)
        )
        what = f"{_item(one)}, {one.name}"
        changes.append(
            row_change("parts row", what, f"figure {one.figure}", (before, after), (said[0], said[1]), steps)
        )
    return changes, moved


def fastener_rows(old: Sequence[TableRow], new: Sequence[TableRow], resting: Resting) -> Iterator[Change]:
    """Changed rows of the manual's own tables of fasteners, each with the steps that refer to its table."""
    keys = (
        lambda row: (folded(row.table), row.item, folded(row.name), row.positions),
        lambda row: (folded(row.table), row.item, folded(row.name)),
        lambda row: (folded(row.table), row.item),
    )
    for before, after in by_keys(old, new, keys, lambda row: row.id):
        was, now = _table_words(before), _table_words(after)
        if was != now:
            one = after or before
            assert one is not None
            what = f"{one.table}, {f'item {one.item}, ' if one.item else ''}{one.name}"
            steps = resting.on_table(before.citations) if before else ()
            yield row_change("table of fasteners", what, one.table, (before, after), (was, now), steps)


def listed_parts(old: Sequence[ListedPart], new: Sequence[ListedPart]) -> Iterator[Change]:
    """Changed lines of the assemblies' own lists, each with its assembly."""
    keys = (
        lambda part: (folded(part.title), folded(part.name), part.applies.words),
        lambda part: (folded(part.title), folded(part.name)),
        lambda part: (folded(part.name), part.applies.words, part.quantity.low),
    )
    for before, after in by_keys(old, new, keys, lambda part: part.id):
        one = after or before
        assert one is not None
        was, now = (_listed_words(part) for part in (before, after))
        if was != now:
            what = f"{one.title}, {one.name}"
            yield row_change("assembly's list", what, one.title, (before, after), (was, now), ())


def _listed_words(part: ListedPart | None) -> str:
    if part is None:
        return ""
    engines = engines_said(part.applies)
    counted = f"{count_said(part.quantity) or 'no count'} {part.name}"
    return _joined((counted, f"for {engines}" if engines else ""))


def row_change(
    about: About,
    what: str,
    section: str,
    rows: tuple[Row | None, Row | None],
    said: tuple[str, str],
    steps: Steps,
) -> Change:
    """A change of a row, from both rows and what each says; `steps`: those that rest on it."""
    before, after = rows
    return Change(
        "new" if before is None else "gone" if after is None else "changed",
        about,
        what,
        said[0],
        said[1],
        section,
        before.id if before else "",
        after.id if after else "",
        before.citations if before else (),
        after.citations if after else (),
        steps=tuple(step.id for _, step in steps),
        steps_called=called_steps(steps),
    )


def called_steps(steps: Steps) -> tuple[str, ...]:
    """The steps as people call them, each with its section's number."""
    return tuple(called_step(procedure.number or procedure.title, step) for procedure, step in steps)


def called_step(section: str, step: Step) -> str:
    """A step as people call it, by its section's number.

    >>> called_step("4.2", Step("", "3", ""))
    '4.2 step 3'
    """
    return f"{section} step {step.mark}" if step.mark else f"{section}, a step without a number"


def _item(row: PartsRow) -> str:
    return f"figure {row.figure} item {row.item}"


def _torque_words(row: TorqueRow | None) -> str:
    if row is None:
        return ""
    return " for ".join(part for part in (torques_said((row.value,)), _size_printed(row)) if part)


def _size_printed(row: TorqueRow) -> str:
    """The cell that begins with the row's thread, as printed: "M10 x 90" says more than M10."""
    thread = folded(row.thread or "").replace(" ", "")
    cells = _printed_words(row).split(" | ")
    printed = (cell for cell in cells if thread and folded(cell).replace(" ", "").startswith(thread))
    return next(printed, row.thread or "")


def _printed_words(row: TorqueRow) -> str:
    return row.citations[0].words if row.citations else ""


def _printed(row: TorqueRow) -> str:
    """The row as it stands there; a remark that comes or goes ("threadlock") is a change too."""
    return folded(_printed_words(row))


def _row_words(row: PartsRow) -> str:
    count = count_said(row.quantity) or "no count"
    size = _size_beside(row)
    engines = engines_said(row.applies)
    said = (
        f"{count} {row.name}".strip(),
        row.part_number,
        size,
        f"for {engines}" if engines else "",
        row.remarks,
        "a new one goes in" if row.renew else "",
    )
    return _joined(said)


def _size_beside(row: PartsRow) -> str:
    """The size as it was read, where the name does not show it already."""
    if not row.kind or not row.kind.thread:
        return ""
    size = row.kind.words()
    shown = size.rpartition(" ")[2].casefold() in row.name.casefold().replace(" ", "")
    return "" if shown else size


def _table_words(row: TableRow | None) -> str:
    if row is None:
        return ""
    size = row.kind.words() if row.kind and row.kind.thread else ""
    at = f"at {row.positions}" if row.positions else ""
    return _joined((f"{count_said(row.quantity)} {size or row.name}".strip(), at))


def _joined(parts: Iterable[str]) -> str:
    return ", ".join(part for part in parts if part)
