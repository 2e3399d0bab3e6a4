"""What the columns of parts lists mean: shown with `lastbolt read`, kept in a file, asked at a terminal."""

from collections.abc import Iterable
from pathlib import Path

from lastbolt.app.read_report import ReadReport
from lastbolt.cli import say
from lastbolt.edge import documents
from lastbolt.reading.column_memory import signature
from lastbolt.words.columns import COLUMNS_SCHEMA, ColumnRead, ColumnsFile, Layout


class ColumnMemory:
    """The columns file of one reading; without a path nothing is remembered."""

    def __init__(self, path: Path | None) -> None:
        """Load it.

        Raises:
            Refusal: the file is there and is no columns file.
        """
        self._path = path
        kept = path is not None and path.exists()
        self._file = documents.load(path, ColumnsFile) if path and kept else ColumnsFile(COLUMNS_SCHEMA)

    @property
    def layouts(self) -> tuple[Layout, ...]:
        """What is remembered."""
        return self._file.layouts

    def keep(self, seen: Iterable[Layout]) -> int:
        """Add the layouts that are new, or that a person now said, and write the file; how many they were."""
        if self._path is None:
            return 0
        kept = {signature(layout.heads): layout for layout in self.layouts}
        new = 0
        for layout in seen:
            known = kept.get(signature(layout.heads))
            if known is None or (known.guessed and not layout.guessed):
                kept[signature(layout.heads)] = layout
                new += 1
        if new:
            documents.save(self._path, ColumnsFile(COLUMNS_SCHEMA, tuple(kept.values())))
        return new


def show_columns(report: ReadReport) -> None:
    """Each table file with what its columns were taken for, and why."""
    for table in report.columns:
        say.say(f"columns of {table.source}:", "  ", "    ")
        for one in table.columns:
            if one.means != "nothing":
                say.say(f"{_called(one)}: {_meant(one)}, {one.why}{_shown(one)}", "    ", "      ")
        idle = [
            f"{_called(one)} ({one.why})" for one in table.columns if one.means == "nothing" and one.cells
        ]
        if idle:
            say.say(f"not used: {', '.join(idle)}", "    ", "      ")


def _called(one: ColumnRead) -> str:
    return f'"{one.column}"' if one.column.strip() else "without a heading"


def _meant(one: ColumnRead) -> str:
    if one.means == "quantity":
        return f"the count for {one.variant}" if one.variant else "the count"
    return f"the {one.means}"


def _shown(one: ColumnRead) -> str:
    return f" ({', '.join(one.cells)})" if one.cells else ""
