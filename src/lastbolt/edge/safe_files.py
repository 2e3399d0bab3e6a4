"""Files written whole or not at all: beside the wanted name first, then renamed over it."""

import contextlib
import hashlib
import os
import secrets
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from lastbolt.words.problem import Problem, Refusal

_PIECE = 1 << 20
MOST_KEPT = 1000


def write_file(path: Path, content: bytes) -> None:
    """Write the content to the path so that a crash leaves the old file or the new one, never half of one.

    Raises:
        Refusal: the file cannot be written; what stood there is untouched.
    """
    with whole_file(path) as stream:
        stream.write(content)


@contextlib.contextmanager
def whole_file(path: Path) -> Iterator[BinaryIO]:
    """A stream whose bytes appear under the path only when the block ends well.

    Raises:
        Refusal: the file cannot be written; what stood there is untouched.
    """
    target = path.resolve()  # a link keeps pointing at the file it pointed at
    beside = target.with_name(f".{target.name}.{secrets.token_hex(4)}.part")
    try:
        if target.is_dir():
            raise IsADirectoryError(0, "it is a folder")
        if target.exists() and not target.is_file():
            raise OSError(0, "it is no ordinary file")
        with beside.open("xb") as stream:
            yield stream
            stream.flush()
            os.fsync(stream.fileno())
        _keep_permissions(target, beside)
        beside.replace(target)
        _sync_folder(target.parent)
    except OSError as error:
        beside.unlink(missing_ok=True)
        raise _cannot_write(path, error) from error
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def keep_beside(path: Path) -> Path:
    """Keep the file's bytes under the first name beside it that is free, or holds them already; that name.

    Raises:
        Refusal: they cannot be kept.
    """
    content = path.read_bytes()
    for number in range(1, MOST_KEPT):
        beside = path.with_name(f"{path.name}.bak{number if number > 1 else ''}")
        if beside.is_file() and beside.read_bytes() == content:
            return beside
        if not beside.exists() and not beside.is_symlink():
            write_file(beside, content)
            return beside
    what = f"{MOST_KEPT} older files are kept beside this one; it was left as it is."
    raise Refusal(Problem("LB-D05", what, str(path), "Give another name to write to.", "stop"))


def make_folder(folder: Path) -> None:
    """Make the folder, and those above it, where they are not there yet.

    Raises:
        Refusal: it cannot be made.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        what = f"Cannot make the folder: {error.strerror or error}."
        do = "Give another folder with --out."
        raise Refusal(Problem("LB-D06", what, str(folder), do, "stop")) from error


def sha256_of(path: Path) -> str:
    """The file's SHA-256 in hexadecimal.

    Raises:
        Refusal: the file cannot be read.
    """
    digest = hashlib.sha256()
    try:
        with path.open("rb") as stream:
            while piece := stream.read(_PIECE):
                digest.update(piece)
    except FileNotFoundError as error:
        do = f"Check the name and the folder; you are in {Path.cwd()}."
        raise Refusal(Problem("LB-F01", "There is no such file.", str(path), do, "stop")) from error
    except OSError as error:
        what = f"The file cannot be read: {error.strerror or error}."
        raise Refusal(Problem("LB-F03", what, str(path), "Check who may read the file.", "stop")) from error
    return digest.hexdigest()


def _keep_permissions(target: Path, beside: Path) -> None:
    with contextlib.suppress(FileNotFoundError):
        beside.chmod(stat.S_IMODE(target.stat().st_mode))


def _sync_folder(folder: Path) -> None:
    """Make the rename itself last through a power cut, where the system lets us."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _cannot_write(path: Path, error: OSError) -> Refusal:
    why = error.strerror or str(error)
    do = "Choose another name or folder, or make room; what stood there before is untouched."
    return Refusal(Problem("LB-F20", f"The file cannot be written: {why}.", str(path), do, "stop"))
