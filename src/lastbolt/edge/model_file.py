"""The model file that `lastbolt read` writes: it carries the mark of what was written, and what another hand
changed in it is never lost by reading again."""

import hashlib
from pathlib import Path

import msgspec
from msgspec.structs import replace

from lastbolt.edge import documents
from lastbolt.edge.plain_text import plain_json
from lastbolt.edge.safe_files import keep_beside
from lastbolt.words.machine import MODEL_SCHEMA, Machine
from lastbolt.words.problem import Problem, Refusal


def save_model(path: Path, machine: Machine) -> Problem | None:
    """Write the model with its mark; a note when the file that stood there had to be kept beside it.

    Raises:
        Refusal: the file is something else than a model of this version, or cannot be written.
    """
    machine = _plain(machine)
    why = _not_to_be_read_again(path, machine)
    kept = keep_beside(path) if why else None
    documents.save(path, replace(machine, written_sha256=_digest(machine)))
    if kept is None:
        return None
    do = "Carry over what is still wanted (lastbolt changes OLD NEW compares them), or delete it."
    return Problem("LB-D17", f"The model that stood there {why}; it was kept.", str(kept), do, "note")


def _plain(machine: Machine) -> Machine:
    raw = msgspec.json.encode(machine)
    text = plain_json(raw)
    return machine if text is raw else msgspec.json.decode(text, type=Machine)


def as_written(machine: Machine) -> bool:
    """Whether every fact of the model is as lastbolt wrote it."""
    return machine.written_sha256 == _digest(machine)


def _digest(machine: Machine) -> str:
    return hashlib.sha256(msgspec.json.encode(replace(machine, written_sha256=""))).hexdigest()


def _not_to_be_read_again(path: Path, fresh: Machine) -> str:
    """Why the model in the file would be lost; empty when reading its sources gives it again."""
    if not path.is_file() or not _says_model(path):
        return ""
    try:
        old, strange = documents.opened(path, Machine)
    except Refusal:
        return "cannot be read as a whole"
    if strange or not as_written(old):
        return "was written or changed by another hand"
    if _files(old) != _files(fresh):
        return "was read from other files"
    return ""


def _says_model(path: Path) -> bool:
    """Whether it is a model of this version at all; others are refused when the file is written."""
    try:
        value = msgspec.json.decode(path.read_bytes())
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError, OSError):
        return False
    return isinstance(value, dict) and value.get("schema") == MODEL_SCHEMA


def _files(machine: Machine) -> list[tuple[str, str]]:
    return sorted((source.file, source.sha256) for source in machine.sources)
