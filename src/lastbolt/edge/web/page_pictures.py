"""Pictures of whole pages, drawn by the limited worker process and kept from one session to the next."""

import contextlib
import hashlib
import os
import threading
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from lastbolt.edge.pdf_frames import Crop, Limits
from lastbolt.edge.pdf_in import render_crops
from lastbolt.edge.safe_files import write_file
from lastbolt.words.machine import Source
from lastbolt.words.problem import Refusal

WHOLE = (0.0, 0.0, 1.0, 1.0)
FINENESS: Mapping[str, float] = {"small": 90.0, "large": 170.0}
"""Dots per inch by the size that is asked for."""
LIMITS = Limits(picture_pixels=8_000_000)
FORM = "1"
MOST_KEPT_BYTES = 512 * 1024 * 1024


class Picture(NamedTuple):
    """A page as PNG, and the mark by which a browser knows that it has it already."""

    png: bytes
    mark: str


class PagePictures:
    """Draws each page once; the next time it is read from the cache."""

    def __init__(self, files: Mapping[str, Path], sources: Mapping[str, Source]) -> None:
        self._files = files
        self._sources = sources
        self._one_at_a_time = threading.Lock()

    def has(self, source: str) -> bool:
        """Whether the pages of the source can be drawn."""
        return source in self._files

    def picture(self, source: str, pdf_page: int, fineness: str) -> Picture | None:
        """The page, or None when there is none or it cannot be drawn."""
        path, known = self._files.get(source), self._sources.get(source)
        if path is None or known is None or not 1 <= pdf_page <= known.pages or fineness not in FINENESS:
            return None
        kept = folder() / f"{FORM}-{known.sha256 or _digest(str(path))}-{pdf_page}-{fineness}.png"
        with contextlib.suppress(OSError):
            return _marked(kept.read_bytes())
        with self._one_at_a_time:
            with contextlib.suppress(OSError):
                return _marked(kept.read_bytes())
            with contextlib.suppress(Refusal):
                png = render_crops(path, (Crop(pdf_page, WHOLE, FINENESS[fineness]),), LIMITS)[0]
                if png:
                    _keep(kept, png)
                    return _marked(png)
        return None


def folder() -> Path:
    """Where this user's page pictures are kept."""
    base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "lastbolt" / "pages"


def _marked(png: bytes) -> Picture:
    return Picture(png, f'"{hashlib.sha256(png).hexdigest()[:32]}"')


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def _keep(path: Path, png: bytes) -> None:
    """Keep a picture, and let the oldest go where there are too many; failing is no reason to stop."""
    with contextlib.suppress(OSError, Refusal):
        path.parent.mkdir(parents=True, exist_ok=True)
        write_file(path, png)
        every = [(one.stat().st_mtime, one.stat().st_size, one) for one in path.parent.glob("*.png")]
        total = sum(size for _, size, _ in every)
        for _, size, one in sorted(every):
            if total <= MOST_KEPT_BYTES:
                break
            one.unlink(missing_ok=True)
            total -= size
