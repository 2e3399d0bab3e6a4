"""Where the letters that scans are read by lie: with this installation, with the user, or with the system."""

import os
import site
import sys
from collections.abc import Iterator
from pathlib import Path

LETTERS = "eng.traineddata"
_BELOW = Path("share", "tessdata")
_SYSTEM = ("/usr/share", "/usr/local/share", "/opt/homebrew/share")


def letters_folder() -> Path | None:
    """The first folder that holds the English letters; None where there is none."""
    return next((folder for folder in _folders() if (folder / LETTERS).is_file()), None)


def in_environment(folder: Path) -> bool:
    """Whether the folder belongs to this installation of Python and goes with it."""
    return folder.is_relative_to(Path(sys.prefix))


def _folders() -> Iterator[Path]:
    yield Path(sys.prefix) / _BELOW
    if base := site.getuserbase():
        yield Path(base) / _BELOW
    if named := os.environ.get("TESSDATA_PREFIX"):
        yield Path(named)
        yield Path(named) / "tessdata"
    for share in _SYSTEM:
        yield Path(share) / "tessdata"
        yield from sorted(Path(share).glob("tesseract-ocr/*/tessdata"), reverse=True)
