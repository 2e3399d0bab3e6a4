"""The corrections file beside a model: found, read, added to by one hand at a time, never half written.

Saving takes a lock that other processes respect too, and says which state of the file the person had seen:
when somebody else has saved since, nothing is written and the person is told.
"""

import contextlib
import hashlib
import os
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import msgspec

from lastbolt.edge import documents
from lastbolt.words.corrections import CORRECTIONS_SCHEMA, Correction, Corrections
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.strange import StrangeField

MODEL_END = ".model"
NOTHING = "none"
"""The state of a file that is not there yet."""
MOST_CORRECTIONS = 20_000


class Kept(NamedTuple):
    """The corrections, the state of their file, and the fields in it that nobody reads."""

    corrections: Corrections
    state: str
    strange: tuple[StrangeField, ...] = ()


def beside(model: Path) -> Path:
    """Where the corrections of a model lie.

    >>> beside(Path("winch.model.json")).name
    'winch.corrections.json'
    """
    return model.with_name(f"{model.name.removesuffix('.json').removesuffix(MODEL_END)}.corrections.json")


def read(path: Path) -> Kept:
    """The corrections in the file; none when there is no file.

    Raises:
        Refusal: it is there and is no corrections file.
    """
    if not path.exists():
        return Kept(Corrections(CORRECTIONS_SCHEMA), NOTHING)
    state = _state(path)
    found = documents.opened(path, Corrections)
    ids = [one.id for one in found.document.corrections]
    if len(set(ids)) != len(ids):
        twice = next(one for one in ids if ids.count(one) > 1)
        what = f'Two corrections have the id "{twice}", so nobody can say which of them is withdrawn.'
        raise Refusal(Problem("LB-K02", what, str(path), "Give each its own id.", "stop"))
    return Kept(found.document, state, found.strange)


def add(path: Path, correction: Correction, seen: str, machine: str = "") -> Kept:
    """Add one correction to the file, if it is still in the state that the person had seen.

    Raises:
        Refusal: somebody else saved since (LB-K03), or saves just now (LB-K04); nothing was written.
    """
    with _locked(path):
        kept = read(path)
        if kept.state != seen:
            what = "Somebody else has saved corrections meanwhile; yours is not saved yet."
            do = "Look at what is there now, and save again: nothing you typed is lost."
            raise Refusal(Problem("LB-K03", what, path.name, do, "stop"))
        if len(kept.corrections.corrections) >= MOST_CORRECTIONS:
            what = f"The file holds {MOST_CORRECTIONS} corrections, the most there may be."
            raise Refusal(
                Problem("LB-K04", what, path.name, "Read better sources, or mend the model.", "stop")
            )
        now = msgspec.structs.replace(
            kept.corrections,
            machine=kept.corrections.machine or machine,
            corrections=(*kept.corrections.corrections, correction),
        )
        documents.save(path, now)
        return Kept(now, _state(path), kept.strange)


def _state(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


@contextlib.contextmanager
def _locked(path: Path) -> Iterator[None]:
    """Only one process at a time; the system lets go of the lock when a process dies."""
    target = path.resolve()
    lock = target.with_name(f".{target.name}.lock")
    try:
        handle = os.open(lock, os.O_RDWR | os.O_CREAT, 0o644)
    except OSError as error:
        what = f"The corrections cannot be written: {error.strerror}."
        do = "Make room, or check who may write there; nothing you typed is lost."
        raise Refusal(Problem("LB-F20", what, str(path), do, "stop")) from error
    try:
        if not _taken(handle):
            what = "Another program is writing these corrections just now; yours is not saved yet."
            raise Refusal(Problem("LB-K03", what, path.name, "Save again.", "stop"))
        yield
    finally:
        os.close(handle)


def _taken(handle: int) -> bool:
    try:
        import fcntl
    except ImportError:  # a system without such locks: the state of the file is checked all the same
        return True
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
