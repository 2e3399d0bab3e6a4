"""What the columns of parts lists mean: shown with `lastbolt read`, kept in a file, asked at a terminal."""

from collections.abc import Iterable
from pathlib import Path

from lastbolt.app.read_sources import ReadReport
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
        """Add the layouts that are new, and write the file; how many they were."""
        known = {signature(layout.heads) for layout in self.layouts}
        new: dict[tuple[str, ...], Layout] = {}
        for layout in seen:
            if signature(layout.heads) not in known:
                new.setdefault(signature(layout.heads), layout)
        if self._path is not None and new:
            documents.save(self._path, ColumnsFile(COLUMNS_SCHEMA, (*self.layouts, *new.values())))
        return len(new) if self._path is not None else 0


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
