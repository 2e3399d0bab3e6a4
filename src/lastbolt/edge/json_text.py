"""The bytes of a JSON document, refused by name before anything in them is believed."""

import json
import re
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from difflib import get_close_matches
from pathlib import Path
from typing import Any

import msgspec

from lastbolt.words.problem import Problem, Refusal

NEW_LINE = b"\n"
MOST_BYTES = (64 << 20, 256 << 20)
"""Of a document, and of a model: thousands of pages make tens of megabytes."""
MOST_DIGITS = 400
MOST_NAMES = 500
ALIKE = 0.75
RIGHT_FILE = "Give the right file to this option."


def json_bytes(path: Path, called: str) -> bytes:
    """What the file holds, without the byte order mark that some editors put first.

    Raises:
        Refusal: it cannot be read, or is text of another encoding.
    """
    try:
        raw = bounded(path, MOST_BYTES[called == "model"])
    except OSError as error:
        what = f"Cannot open the {called} file: {error.strerror or error}."
        near = _near(path) if isinstance(error, FileNotFoundError) else ""
        do = near or "Check the name, or make the file first (lastbolt --help says which command writes it)."
        raise Refusal(Problem("LB-D01", what, str(path), do, "stop")) from None
    if raw is None:
        raise Refusal(_too_large(path, called))
    if sort := _other_sort(raw):
        do = (
            f"Read it first: lastbolt read {path.name} --out NAME.model.json; then give NAME.model.json here."
        )
        what = f"This is {sort}, and a {called} file of lastbolt is wanted."
        raise Refusal(Problem("LB-D03", what, str(path), do if called == "model" else RIGHT_FILE, "stop"))
    if raw.startswith((BOM_UTF16_BE, BOM_UTF16_LE)) or b"\0" in raw[:4]:
        what = f"The {called} file is UTF-16 text; JSON documents are UTF-8."
        raise Refusal(Problem("LB-D02", what, str(path), "Save it again as UTF-8.", "stop"))
    _check_letters(raw, path)
    return raw.removeprefix(BOM_UTF8)


def bounded(path: Path, most: int) -> bytes | None:
    """The file's bytes; None when there are more of them. An endless device ends here too."""
    with path.open("rb") as stream:
        raw = stream.read(most + 1)
    return raw if len(raw) <= most else None


def _other_sort(raw: bytes) -> str:
    """What else people have in such a folder, by how it begins."""
    begins = {b"%PDF-": "a PDF", b"PK\x03\x04": "a spreadsheet or an archive", b"<?xml": "an XML file"}
    raw = raw.removeprefix(BOM_UTF8)
    text = "" if raw.lstrip()[:1] in (b"{", b"[", b'"', b"") or b"\0" in raw[:4] else "a table or a text"
    text = "" if raw.startswith((BOM_UTF16_BE, BOM_UTF16_LE)) else text
    return next((sort for sign, sort in begins.items() if raw.startswith(sign)), text)


def _near(path: Path) -> str:
    """A file of nearly that name beside it, as what to do."""
    there = [one.name for one in path.parent.glob("*.json")][:MOST_NAMES] if path.parent.is_dir() else []
    near = get_close_matches(path.name, there, 1, ALIKE)
    return f'There is "{near[0]}" beside it; is that meant?' if near else ""


def _too_large(path: Path, called: str) -> Problem:
    what = f"The {called} file has more than {MOST_BYTES[called == 'model'] >> 20} MB."
    do = f"It is no such document, or far too much in one file. {RIGHT_FILE}"
    return Problem("LB-D18", what, str(path), do, "stop")


def _check_letters(raw: bytes, path: Path) -> None:
    try:
        raw.decode()
    except UnicodeDecodeError as error:
        what = "The file holds letters that are not UTF-8, as JSON documents are."
        where = f"{path}, line {raw[: error.start].count(NEW_LINE) + 1}"
        raise Refusal(Problem("LB-D02", what, where, "Save it again as UTF-8.", "stop")) from None


def decoded(raw: bytes, path: Path) -> Any:
    """The document as plain values.

    Raises:
        Refusal: it is not JSON, or goes deeper than any document.
    """
    try:
        return msgspec.json.decode(raw)
    except msgspec.ValidationError:
        return _with_endless_numbers(raw, path)
    except msgspec.DecodeError as error:
        raise Refusal(_not_json(error, raw, path)) from None
    except RecursionError:
        raise Refusal(too_deep(path)) from None


def _with_endless_numbers(raw: bytes, path: Path) -> Any:
    """The values of a document with a number beyond those of IEEE 754 as infinite, to be named."""
    try:
        return json.loads(raw, parse_int=_whole)
    except (ValueError, RecursionError):
        raise Refusal(too_deep(path)) from None


def _whole(digits: str) -> int | float:
    return int(digits) if len(digits) <= MOST_DIGITS else float(digits)


def too_deep(path: Path) -> Problem:
    """The file's brackets stand in each other deeper than those of any document."""
    what = "The file holds lists within lists, far deeper than any document of lastbolt."
    return Problem("LB-D15", what, str(path), f"It is damaged or no such document. {RIGHT_FILE}", "stop")


def _not_json(error: Exception, raw: bytes, path: Path) -> Problem:
    at = re.search(r"byte (\d+)", str(error))
    if "truncated" in str(error):
        what = "The file breaks off in the middle: it is not all of a document."
        if not raw.strip():
            what = "The file is empty."
        do = "Make it again (lastbolt --help says which command writes it), or get it again."
        return Problem("LB-D02", what, f"{path}, line {raw.count(NEW_LINE) + 1}", do, "stop")
    line = raw[: int(at.group(1))].count(NEW_LINE) + 1 if at else 1
    said = str(error).partition("malformed: ")[2].partition(" (byte")[0] or str(error)
    return Problem(
        "LB-D02",
        f"This is no JSON document: {said}.",
        f"{path}, line {line}",
        "Mend the file there; a missing comma or quote just before that place is the usual cause.",
        "stop",
    )


class Thing(dict[str, Any]):
    """An object of the document that remembers the fields it gave twice."""

    twice: tuple[str, ...] = ()


def with_doubles(raw: bytes) -> Any:
    """The values of a document whose objects know which of their fields stand twice."""
    return json.loads(raw, object_pairs_hook=_thing, parse_int=_whole)


def _thing(pairs: list[tuple[str, Any]]) -> Thing:
    thing = Thing(pairs)
    if len(thing) < len(pairs):
        names = [name for name, _ in pairs]
        thing.twice = tuple(name for name in thing if names.count(name) > 1)
    return thing
