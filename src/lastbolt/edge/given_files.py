"""The files that `lastbolt read` was given, before any is opened: slips that people make when naming them."""

import json
import os
from collections.abc import Iterable, Sequence
from pathlib import Path

from lastbolt.edge.safe_files import sha256_of
from lastbolt.edge.xml_in import ARCHIVE, MODULES
from lastbolt.words.problem import Problem, Refusal

READABLE = (".pdf", ".csv", ".tsv", ".xlsx", ".xlsm", ".xls", ".xlsb", ".ods", ".md", ".html", ".htm")
MOST_LOOKED_AT = 20_000
MOST_NAMED = 8
_HEAD = 4096


def files_given(paths: Sequence[Path]) -> tuple[list[Path], tuple[Problem, ...]]:
    """Each file once, in the order given, and which were given twice.

    Raises:
        Refusal: one is a document of lastbolt's own, or a folder of PDFs and tables.
    """
    for path in paths:
        _check_name(path)
        if path.is_dir():
            _check_folder(path)
        elif path.is_file():
            _check_own(path)
        elif path.exists():
            what = "This is a device or a pipe and no file."
            do = "Save what it gives as a file, and read that."
            raise Refusal(Problem("LB-F02", what, shown_name(path), do, "stop"))
    return _each_once(paths)


def _check_name(path: Path) -> None:
    """The process that opens PDFs takes names in UTF-8 only."""
    try:
        str(path).encode("utf-8")
    except UnicodeEncodeError as error:
        what = "The file's name has letters of another encoding than UTF-8."
        do = "Give it a plain name, and read it again."
        raise Refusal(Problem("LB-F17", what, shown_name(path), do, "stop")) from error


def shown_name(path: Path) -> str:
    """The file's name for people and documents; letters of another encoding are shown as �."""
    return os.fsencode(path.name).decode("utf-8", "replace")


def _check_folder(folder: Path) -> None:
    """A folder is read when it holds XML modules; files of other kinds are to be named, each on purpose."""
    names = []
    for number, file in enumerate(folder.rglob("*")):
        if number >= MOST_LOOKED_AT or file.suffix.lower() in MODULES:
            return
        if file.suffix.lower() in (*READABLE, ARCHIVE) and not file.name.startswith("."):
            names.append(str(file))
    names.sort()
    if not names:
        what = "Nothing in this folder can be read: no PDF, no text, no CSV, no spreadsheet, no XML module."
        do = "Give the manual and the parts list themselves, or the folder that holds the modules."
        raise Refusal(Problem("LB-X04", what, str(folder), do, "stop"))
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    what = f"This is a folder; {len(names)} file{'' if len(names) == 1 else 's'} in it can be read."
    do = (
        "Name those that belong to this one machine, so that no other manual gets among them: "
        f"{' '.join(_quoted(name) for name in names[:MOST_NAMED])}{more}."
    )
    raise Refusal(Problem("LB-F02", what, str(folder), do, "stop"))


def _quoted(name: str) -> str:
    return f'"{name}"' if " " in name else name


def _check_own(path: Path) -> None:
    """Refuse one of lastbolt's own documents, with what it is for."""
    if path.suffix.lower() != ".json":
        return
    with path.open("rb") as stream:
        head = stream.read(_HEAD).decode("utf-8", "replace")
    schema = _schema(head)
    what = f'This is a "{schema}" document of lastbolt.' if schema else "This is a JSON file."
    if schema.startswith("lastbolt.model/"):
        do = f'It was read already; use it: lastbolt plan "GOAL" --model {_quoted(path.name)}'
    else:
        do = "read takes manuals and parts lists: PDF, Markdown, HTML, CSV, spreadsheets, XML modules."
    raise Refusal(Problem("LB-D03", what, str(path), do, "stop"))


def _schema(head: str) -> str:
    before, found, rest = head.partition('"schema"')
    if not found or before.strip() != "{":
        return ""
    try:
        value = json.JSONDecoder().raw_decode(rest.partition(":")[2].lstrip())[0]
    except ValueError:
        return ""
    return value if isinstance(value, str) and value.startswith("lastbolt.") else ""


def _each_once(paths: Iterable[Path]) -> tuple[list[Path], tuple[Problem, ...]]:
    kept: dict[tuple[str, str], Path] = {}
    told = []
    for path in paths:
        mark = ("file", sha256_of(path)) if path.is_file() else ("other", str(path.resolve()))
        if mark not in kept:
            kept[mark] = path
        else:
            first = kept[mark]
            named = "" if first.resolve() == path.resolve() else f", as {first.name}: the same bytes"
            what = f"{path.name} was given twice{named}. It was read once."
            told.append(Problem("LB-F16", what, str(path), "Look whether another file was meant.", "note"))
    return list(kept.values()), tuple(told)
