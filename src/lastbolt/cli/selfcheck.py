"""`lastbolt selfcheck`: tries every part of this installation once and says what can be done with it."""

import platform
import sys
import tempfile
from argparse import Namespace
from collections.abc import Callable
from importlib import metadata
from pathlib import Path
from typing import Literal

from msgspec import Struct

import lastbolt
from lastbolt.cli import say

SCAN = "pip install 'lastbolt[scan]'"
LIBRARIES = ("msgspec", "pypdfium2", "highspy", "typst", "jinja2", "python-calamine", "starlette", "uvicorn")
SCAN_LIBRARIES = ("tesserocr", "opencv-python-headless")
HELLO = "Remove the 7 screws"


class Part(Struct, frozen=True):
    """One thing a mechanic may want to do; `needed` false: lastbolt is of use without it."""

    part: str
    says: str
    works: bool
    needed: bool = True


def run(args: Namespace) -> int:
    """Try every part; 0 when all that are needed work, 2 when one does not."""
    found = (*(_tried(name, check) for name, check in CHECKS), _scans())
    if args.json:
        say.as_json([*found, *_versions()])
    else:
        _show(found)
    return 0 if all(part.works for part in found if part.needed) else 2


def _show(found: tuple[Part, ...]) -> None:
    bad = [part for part in found if part.needed and not part.works]
    whole = all(part.works for part in found)
    good = "Everything works." if whole else "Everything that is needed works."
    say.big(f"{say.count(len(bad), 'part')} of lastbolt cannot be used." if bad else good)
    rows = [(part.part, "yes" if part.works else "NO" if part.needed else "no", part.says) for part in found]
    say.table(rows, ("What you may want to do", "works", "how it is here"))
    print()
    say.say(f"For a fault report: {', '.join(f'{part.part} {part.says}' for part in _versions())}.")


def _tried(name: str, check: Callable[[], str]) -> Part:
    try:
        return Part(name, check(), True)
    except Exception as error:  # whatever it is, it is told and the next part is tried
        return Part(name, f"{type(error).__name__}: {error}", False)


def _pdf() -> str:
    from lastbolt.edge.pdf_in import read_pages
    from lastbolt.words.page import PageLayout

    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "try.pdf"
        file.write_bytes(_typeset("pdf"))
        pages = [page for page in read_pages(file) if isinstance(page, PageLayout)]
    if not pages or "screws" not in [word.text for word in pages[0].words]:
        raise RuntimeError("a page was read, and its words were not there")
    return "a page was made and read back"


def _tables() -> str:
    from lastbolt.edge.table_in import read_table

    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "try.csv"
        file.write_text("Item;Name;Qty\n1;Screw M6 x 45;7\n", encoding="utf-8")
        read_table(file)
    import python_calamine

    return f"CSV read; XLSX by python-calamine {getattr(python_calamine, '__version__', '')}".rstrip()


def _tally() -> str:
    from lastbolt.tally.solve import solve
    from lastbolt.words.claims import Cause, Claim, ClaimSet, Settings, Unknown

    look = Claim("look", "look", (("in", 1),), "=", 0, ("wrong",))
    told = ClaimSet((Unknown("in", 1),), (Cause("wrong", "look"),), (look,), ("in",))
    account = solve(told, Settings())
    if (account.free_cost, account.held_cost) != (0, 1):
        raise RuntimeError(f"one look should cost 0 and 1, not {account.free_cost} and {account.held_cost}")
    return "one place, one look: answered as it must be"


def _paper() -> str:
    return f"a page of {len(_typeset('pdf'))} bytes was made"


def _page() -> str:
    import starlette

    from lastbolt.edge.web.serving import LOOPBACK, free_port

    return f"served on {LOOPBACK} (port {free_port()} is free), by starlette {starlette.__version__}"


def _typeset(sort: Literal["pdf", "png"]) -> bytes:
    import typst

    text = f'#set page(width: 90mm, height: 30mm)\n#set text(18pt)\n#"{HELLO}"'
    made = typst.compile(text.encode(), format=sort, ppi=300.0)
    if not isinstance(made, bytes):
        raise TypeError("one page gave several documents")
    return made


def _terminal() -> str:
    coding = (sys.stdout.encoding or "").lower().replace("-", "")
    letters = (
        "every letter" if coding == "utf8" else f"letters beyond {sys.stdout.encoding} are shown by number"
    )
    return f"{say.width()} columns, {letters}"


def _demo() -> str:
    home = Path(lastbolt.__file__).parents[2]
    there = (home / "demo" / "generate.py").is_file()
    return "lastbolt demo" if there else "not part of an installed lastbolt; the source folder has it"


def _scans() -> Part:
    """Whether pages that are pictures can be read: the extra, its letters, and one word of a picture."""
    name = "Read scanned pages (pictures)"
    missing = [library for library in SCAN_LIBRARIES if not _version(library)]
    if missing:
        return Part(name, f"not installed ({', '.join(missing)} missing); to have it: {SCAN}", False, False)
    from lastbolt.edge.scan_letters import LETTERS, in_environment, letters_folder

    folder = letters_folder()
    if folder is None:
        return Part(name, f"its letters are missing ({LETTERS}); to have them: {SCAN}", False, False)
    try:
        read = _read_picture()
    except Exception as error:
        return Part(name, f"{type(error).__name__}: {error}", False, False)
    whose = "of this installation" if in_environment(folder) else "of the system"
    return Part(name, f'English letters {whose} ({folder}); a picture gave "{read}"', read == HELLO, False)


def _read_picture() -> str:
    import cv2
    import numpy as np

    from lastbolt.edge.scan_words import LetterReader

    grey = cv2.imdecode(np.frombuffer(_typeset("png"), np.uint8), cv2.IMREAD_GRAYSCALE)
    if grey is None:
        raise RuntimeError("the picture could not be opened")
    return " ".join(item.word.text for item in LetterReader().words(grey.astype(np.uint8), 300.0))


def _versions() -> list[Part]:
    own = [Part("lastbolt", lastbolt.__version__, True), Part("python", platform.python_version(), True)]
    needed = [Part(name, _version(name) or "missing", bool(_version(name))) for name in LIBRARIES]
    scan = [Part(name, _version(name) or "missing", bool(_version(name)), False) for name in SCAN_LIBRARIES]
    return own + needed + scan


def _version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return ""


CHECKS: tuple[tuple[str, Callable[[], str]], ...] = (
    ("Read PDF manuals", _pdf),
    ("Read parts lists (CSV, XLSX)", _tables),
    ("Ask whether a joint is free", _tally),
    ("Print the report", _paper),
    ("Put right by eye, in a browser", _page),
    ("Read it on this screen", _terminal),
    ("See the demo", _demo),
)
