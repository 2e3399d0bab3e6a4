"""Folders, archives and single files of XML modules into one publication.

Nothing is unpacked to disk and no name is trusted: a name that leads out of its folder or archive is refused.
A module that cannot be read is named and left out; a source of which nothing can be read is refused.
"""

import hashlib
import os
import stat
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path, PurePosixPath
from typing import NamedTuple

from lastbolt.edge.pdf_in import check_file
from lastbolt.edge.xml_parse import LIMITS, Limits, parse, too_much
from lastbolt.reading.xml_book import is_known
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.tree import Module, Publication

MODULES = (".xml", ".dita", ".ditamap")
ARCHIVE = ".zip"
_OTHERS = (".pdf", ".csv", ".tsv", ".xlsx", ".xlsm", ".xls", ".xlsb", ".ods", ".sgm", ".sgml")
MOST_FILES = 20_000
MOST_BYTES = 512 * 2**20
_MOST_TOLD = 5


class _Raw(NamedTuple):
    name: str
    content: bytes


def is_marked_up(path: Path) -> bool:
    """Whether a path is one for this reader: a folder, an archive or a file of XML."""
    return path.is_dir() or path.suffix.lower() in (*MODULES, ARCHIVE)


def read_publication(path: Path, limits: Limits = LIMITS) -> Publication:
    """The XML modules in a folder, an archive or one file.

    Raises:
        Refusal: there is no module, none can be read, or a name leads out of the folder or archive.
    """
    problems: list[Problem] = []
    modules: list[Module] = []
    seen = total = 0
    known = False
    digests: list[str] = []
    for raw in _files(path, limits, problems):
        digests.append(f"{hashlib.sha256(raw.content).hexdigest()}  {raw.name}\n")
        seen += 1
        total += len(raw.content)
        if seen > MOST_FILES or total > MOST_BYTES:
            raise too_much(f"over {MOST_FILES} files or {MOST_BYTES // 2**20} MiB in all", str(path))
        try:
            parsed = parse(raw.content, raw.name, _called(path, raw.name), limits)
        except Refusal as refusal:
            problems += refusal.problems
            continue
        modules.append(Module(raw.name, parsed.root))
        known = known or is_known(parsed.root)
        if parsed.unknown:
            problems.append(_unknown(parsed.unknown, _called(path, raw.name)))
    if not modules:
        stops = [p for p in problems if p.grade == "stop"]
        raise Refusal(*(stops[:_MOST_TOLD] or [_none(path)]))
    if not known:
        raise Refusal(_strange(modules[0], _called(path, modules[0].file)))
    left_out = [_left_out(p) if p.grade == "stop" else p for p in problems]
    one = seen == 1 and path.is_file() and path.suffix.lower() != ARCHIVE
    mark = digests[0].partition(" ")[0] if one else hashlib.sha256("".join(digests).encode()).hexdigest()
    return Publication(tuple(modules), tuple(left_out), mark)


def _files(path: Path, limits: Limits, problems: list[Problem]) -> Iterator[_Raw]:
    if path.is_dir():
        yield from _in_folder(path, limits, problems)
        return
    check_file(path)
    if path.suffix.lower() == ARCHIVE:
        yield from _in_archive(path, limits, problems)
        return
    if path.stat().st_size > limits.file_bytes:
        raise too_much(f"more than {limits.file_bytes // 2**20} MiB", str(path))
    yield _Raw(path.name, path.read_bytes())


def _in_folder(folder: Path, limits: Limits, problems: list[Problem]) -> Iterator[_Raw]:
    root = folder.resolve()
    others = 0
    for above, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(files):
            file = Path(above, name)
            shown = file.relative_to(folder).as_posix()
            others += name.lower().endswith(_OTHERS)
            if name.startswith(".") or not name.lower().endswith(MODULES):
                continue
            if not file.resolve().is_relative_to(root):
                raise _leads_out(shown, folder)
            try:
                facts = file.stat()
                if not stat.S_ISREG(facts.st_mode):
                    continue
                if facts.st_size > limits.file_bytes:
                    problems += too_much(f"more than {limits.file_bytes // 2**20} MiB", str(file)).problems
                    continue
                yield _Raw(shown, file.read_bytes())
            except OSError as error:
                what = f"The file cannot be read: {error.strerror or error}."
                problems.append(Problem("LB-F03", what, str(file), "Check who may read the file.", "stop"))
    if others:
        problems.append(_others(others, folder, "Name them after the folder."))


def _in_archive(path: Path, limits: Limits, problems: list[Problem]) -> Iterator[_Raw]:
    try:
        with zipfile.ZipFile(path) as archive:
            members = archive.infolist()
            if len(members) > MOST_FILES:
                raise too_much(f"over {MOST_FILES} files", str(path))
            for member in members:
                if leads_out(member.filename):
                    raise _leads_out(member.filename, path)
            for member in sorted(members, key=lambda m: m.filename):
                if member.is_dir() or not member.filename.lower().endswith(MODULES):
                    continue
                if member.flag_bits & 1:
                    raise _bad_archive(path, "it is locked with a password")
                with archive.open(member) as stream:
                    content = stream.read(limits.file_bytes + 1)
                if len(content) > limits.file_bytes:
                    shown = _called(path, member.filename)
                    problems += too_much(f"more than {limits.file_bytes // 2**20} MiB", shown).problems
                    continue
                yield _Raw(member.filename, content)
            others = sum(member.filename.lower().endswith(_OTHERS) for member in members)
            if others:
                problems.append(_others(others, path, "Unpack it and name them too."))
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, OSError) as error:
        raise _bad_archive(path, str(error)) from error


def leads_out(name: str) -> bool:
    """Whether a name in an archive points anywhere but below its own root.

    >>> leads_out("modules/DMC-A.XML"), leads_out("../../etc/passwd"), leads_out("C:\\\\x.xml")
    (False, True, True)
    """
    plain = name.replace("\\", "/")
    parts = PurePosixPath(plain).parts
    return plain.startswith("/") or ".." in parts or "\0" in name or (len(plain) > 1 and plain[1] == ":")


def _called(path: Path, name: str) -> str:
    return str(path / name) if path.is_dir() else str(path) if name == path.name else f"{path}, {name}"


def _leads_out(name: str, path: Path) -> Refusal:
    what = f'A name in it leads out of it: "{name}".'
    do = "Do not use it before you know who made it; nothing of it was read."
    return Refusal(Problem("LB-X05", what, str(path), do, "stop"))


def _bad_archive(path: Path, why: str) -> Refusal:
    what = f"The archive cannot be opened: {why}."
    do = "Get it again, without a password, or unpack it and give the folder."
    return Refusal(Problem("LB-X06", what, str(path), do, "stop"))


def _others(count: int, path: Path, do: str) -> Problem:
    what = f"{count} files of other kinds (PDF, tables, SGML) lie in it and were not read."
    return Problem("LB-X14", what, str(path), do, "note")


def _none(path: Path) -> Problem:
    what = f"There is no XML module in it ({', '.join(MODULES)})."
    return Problem("LB-X04", what, str(path), "Give the folder or archive that holds the modules.", "stop")


def _strange(module: Module, where: str) -> Problem:
    what = f"This is neither an S1000D module nor a DITA topic (its root is {module.root.name})."
    do = "Give modules of one of these standards; a PDF print of the manual can be read too."
    return Problem("LB-X07", what, where, do, "stop")


def _left_out(problem: Problem) -> Problem:
    do = f"{problem.do} Until then nothing in it is taken into account."
    return Problem(problem.code, problem.what, problem.where, do)


def _unknown(names: tuple[str, ...], where: str) -> Problem:
    named = ", ".join(f"&{name};" for name in dict.fromkeys(names[:8]))
    what = f"{len(names)} characters are called by names nobody knows here (shown as \ufffd): {named}."
    return Problem("LB-X12", what, where, "Compare the words with the source.", "doubt")
