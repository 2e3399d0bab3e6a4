"""One damaged input: its files, the command that is given them, and what must be true of the outcome."""

import random
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

OUT = "{out}"
"""Stands for the file to write in a case's command."""


class Case(NamedTuple):
    """What to run and what must hold of it.

    `damaged`: the file (or files) of which one must be named. `wants`: "refused" (exit 2), "told" (never
    exit 0), "read" (never exit 2) or "" (each of the three). `whole`: a whole file beside which facts are
    counted: when the model has fewer steps or rows than that one gives, a problem must say so. `writes`:
    whether the command has a file to write. `never_clear`: no answer may call a joint clear to part (exit 0
    of a tally). `earlier`: what may stand in the file to write before (else the model of a sound list).
    """

    argv: tuple[str, ...]
    damaged: tuple[str, ...]
    wants: str = ""
    whole: str = ""
    writes: bool = True
    never_clear: bool = False
    earlier: bytes = b""
    memory_MB: float = 0.0
    cpu_s: float = 0.0


Make = Callable[[random.Random, Path], Case]


class Kind(NamedTuple):
    """A kind of damage. Of a heavy one, fewer inputs are made."""

    name: str
    make: Make
    heavy: bool = False


def reading(name: str, *more: str, wants: str = "", whole: str = "", **bounds: float) -> Case:
    """The case of `lastbolt read` with the damaged file and others."""
    argv = ("read", name, *more, "--out", OUT)
    return Case(argv, (Path(name).name,), wants=wants, whole=whole, **bounds)  # type: ignore[arg-type]


def cut(rng: random.Random, content: bytes, least: int = 0) -> bytes:
    """The content up to a chance place."""
    return content[: rng.randint(least, max(least, len(content) - 1))]


def flipped(rng: random.Random, content: bytes, most: int = 30) -> bytes:
    """The content with some bits turned over."""
    raw = bytearray(content)
    for _ in range(rng.randint(1, most)):
        raw[rng.randrange(len(raw))] ^= 1 << rng.randrange(8)
    return bytes(raw)


def mangled(rng: random.Random, content: bytes) -> bytes:
    """The content with a piece overwritten, dropped, doubled, moved, or put in."""
    start = rng.randrange(len(content))
    end = min(len(content), start + rng.choice((1, 7, 64, 512, 4096)))
    piece = content[start:end]
    chosen = rng.randrange(6)
    if chosen == 0:
        piece = b"\0" * len(piece)
    elif chosen == 1:
        piece = b""
    elif chosen == 2:
        piece = piece * 2
    elif chosen == 3:
        piece = rng.randbytes(len(piece))
    elif chosen == 4:
        piece = piece.replace(b"\n", b"\r\n")
    else:
        piece = rng.randbytes(rng.choice((1, 16, 300))) + piece
    return content[:start] + piece + content[end:]
