"""Comments on the cells of a workbook (XLSX): what people wrote beside a list, and no cell says."""

import posixpath
import zipfile
from pathlib import Path
from typing import NamedTuple

from lastbolt.edge.xml_parse import parse
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.tree import Element

_MOST_NAMED = 12
_LONGEST = 120
_LARGEST = 16 * 2**20


class Comment(NamedTuple):
    """A comment: the sheet's name, the cell, and its words."""

    sheet: str
    cell: str
    words: str


def comments_in(path: Path) -> list[Comment]:
    """The comments of a workbook in their order; none where it holds none or is of another kind."""
    if not zipfile.is_zipfile(path):
        return []
    try:
        with zipfile.ZipFile(path) as packed:
            return _comments(packed, str(path))
    except (Refusal, zipfile.BadZipFile, KeyError, RuntimeError, OSError, NotImplementedError, ValueError):
        return []  # what is wrong with the workbook is said where its cells are read


def comments_told(comments: list[Comment], path: Path) -> list[Problem]:
    """One doubt for the comments of each sheet, word for word: no row of the model holds them."""
    found = []
    for sheet in dict.fromkeys(one.sheet for one in comments):
        mine = [one for one in comments if one.sheet == sheet]
        said = "; ".join(f'{one.cell}: "{_short(one.words)}"' for one in mine[:_MOST_NAMED])
        more = f"; and {len(mine) - _MOST_NAMED} more" if len(mine) > _MOST_NAMED else ""
        what = f"Cells have comments, which are in no row: {said}{more}."
        do = "Look whether one tells of a part, a count or an engine, and write it into the row's remarks."
        found.append(Problem("LB-F47", what, f"{path}, sheet {sheet}", do))
    return found


def _short(words: str) -> str:
    return words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1]}…"


def _comments(packed: zipfile.ZipFile, where: str) -> list[Comment]:
    names = set(packed.namelist())
    if not any("comment" in name.lower() for name in names):
        return []
    book = root_of(packed, "xl/workbook.xml", where)
    parts = targets(packed, "xl/workbook.xml", where)
    found: list[Comment] = []
    for sheet in book.below("sheet"):
        part = parts.get(sheet.get("id"), "")
        if part not in names:
            continue
        for target in targets(packed, part, where).values():
            if target in names and "comment" in posixpath.basename(target).lower():
                found += _of_sheet(sheet.get("name"), root_of(packed, target, where))
    return list(dict.fromkeys(found))


def _of_sheet(name: str, root: Element) -> list[Comment]:
    """Both kinds: notes of old, and threads of remarks (whose note of old only says that there is one)."""
    made = []
    for one in root.below("comment", "threadedComment"):
        words = " ".join(one.words().split())
        if words:
            made.append(Comment(name, one.get("ref"), words))
    return made


def targets(packed: zipfile.ZipFile, part: str, where: str) -> dict[str, str]:
    """What a part of the workbook refers to: id -> name inside the archive."""
    folder, name = posixpath.split(part)
    relations = f"{folder}/_rels/{name}.rels"
    if relations not in packed.namelist():
        return {}
    root = root_of(packed, relations, where)
    return {
        one.get("Id"): posixpath.normpath(posixpath.join("/" + folder, one.get("Target"))).lstrip("/")
        for one in root.below("Relationship")
    }


def root_of(packed: zipfile.ZipFile, name: str, where: str) -> Element:
    """The elements of one part of a workbook.

    Raises:
        ValueError: it is too large.
    """
    if packed.getinfo(name).file_size > _LARGEST:
        raise ValueError(name)
    return parse(packed.read(name), name, where).root
