"""The sources' own print for the bench: the drawing of a step's section and the place where the step stands.

Only what a plan cites is ever drawn. All of it is drawn at once by the limited worker, the first time that
somebody asks, and kept as long as the server runs.
"""

import hashlib
import threading
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from msgspec import Struct

from lastbolt.app.pages import Crop
from lastbolt.edge.report_files import cut_pictures
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import Figure, Machine
from lastbolt.words.plan import Line, Plan
from lastbolt.words.problem import Refusal

MOST_CROPS = 1_500
MOST_BYTES = 96 << 20
ROUND_DRAWING, ROUND_PRINT = (0.01, 0.01), (0.03, 0.05)
"""How much of the page stands round a box, as shares of its width and height: print with its neighbours."""


class Shown(Struct, frozen=True):
    """One picture of a line: its key, and what it is."""

    key: str
    title: str


class Pictures:
    """The pictures of one class's papers."""

    def __init__(self, machine: Machine, files: Mapping[str, Path]) -> None:
        self._files = files
        self._titles = {source.id: source.title for source in machine.sources}
        self._figures = {figure.id: figure for figure in machine.figures}
        self._of_section: dict[str, list[Figure]] = {}
        for figure in machine.figures:
            for procedure in figure.procedures:
                self._of_section.setdefault(procedure, []).append(figure)
        self._crops: dict[str, Crop] = {}
        self._drawn: dict[str, bytes] = {}
        self._lock = threading.Lock()

    def of(self, plan: Plan | None) -> dict[str, tuple[Shown, ...]]:
        """The pictures of each line of a plan, by the line's id: drawings first."""
        found = {line.id: tuple(self._shown(line)) for line in plan.lines} if plan and self._files else {}
        return {line: shown for line, shown in found.items() if shown}

    def cited(self, key: str) -> bool:
        """Whether a plan that was asked for shows this picture."""
        return key in self._crops

    def png(self, key: str) -> bytes | None:
        """The picture; None where no plan cites it, or it cannot be drawn."""
        if key not in self._crops:
            return None
        with self._lock:
            if key not in self._drawn:
                self._draw()
            return self._drawn.get(key) or None

    def _draw(self) -> None:
        """Draw all that was cited since the last time; what cannot be drawn is not tried again."""
        wanted = [crop for name, crop in list(self._crops.items()) if name not in self._drawn]
        try:
            made = cut_pictures(wanted, self._files)
        except Refusal:
            made = {}
        room = MOST_BYTES - sum(map(len, self._drawn.values()))
        for crop in wanted:
            png = made.get(crop.key, b"")
            room -= len(png)
            self._drawn[crop.key] = png if room >= 0 else b""

    def _shown(self, line: Line) -> Iterator[Shown]:
        named = [self._figures[name] for name in line.figures if name in self._figures]
        for figure in named or self._of_section.get(line.procedure, []):
            if figure.place is not None and figure.place.box is not None:
                title = " ".join(f"{figure.number} {figure.title}".split())
                yield from self._known(figure.source, figure.place, title, ROUND_DRAWING)
        yield from self._cited(line.citations[:1])

    def _cited(self, citations: Iterable[Citation]) -> Iterator[Shown]:
        for one in citations:
            if isinstance(one.place, PdfPlace) and one.place.box is not None:
                page = one.place.printed_page or str(one.place.pdf_page)
                title = f"{self._titles.get(one.source, one.source)}, {page}"
                yield from self._known(one.source, one.place, title, ROUND_PRINT)

    def _known(self, source: str, place: PdfPlace, title: str, more: tuple[float, float]) -> Iterator[Shown]:
        if source not in self._files or place.box is None:
            return
        left, top, right, bottom = place.box
        x, y = more
        box = (max(0.0, left - x), max(0.0, top - y), min(1.0, right + x), min(1.0, bottom + y))
        key = hashlib.sha256(f"{source} {place.pdf_page} {box}".encode()).hexdigest()[:24]
        if key not in self._crops and len(self._crops) < MOST_CROPS:
            self._crops[key] = Crop(key, source, place.pdf_page, box)
        if key in self._crops:
            yield Shown(key, title)
