"""Pages read from pictures, kept from one reading to the next: a stopped reading goes on where it was."""

import contextlib
import os
from pathlib import Path

import msgspec
from msgspec.structs import replace

from lastbolt.edge.pdf_frames import ScanRead
from lastbolt.edge.safe_files import write_file
from lastbolt.words.problem import Refusal

_decoder = msgspec.json.Decoder(ScanRead)


def folder() -> Path:
    """Where this user's pages are kept."""
    base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "lastbolt" / "scans"


def kept(where: Path, mark: str, pdf_page: int) -> ScanRead | None:
    """The page with this picture, if it was read before and what was kept is whole."""
    try:
        found = _decoder.decode((where / f"{mark}.json").read_bytes())
    except (OSError, msgspec.DecodeError):
        return None
    if found.mark != mark or any(place >= len(found.layout.words) for place in found.unsure):
        return None
    return replace(found, layout=replace(found.layout, pdf_page=pdf_page), again=True)


def keep(where: Path, page: ScanRead) -> None:
    """Keep a page; that it cannot be kept (a full disk, no right to write) is no reason to stop."""
    with contextlib.suppress(OSError, Refusal):
        where.mkdir(parents=True, exist_ok=True)
        write_file(where / f"{page.mark}.json", msgspec.json.encode(page))
