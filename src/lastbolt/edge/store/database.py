"""The database file: write-ahead log, every commit synced, brought up to date when it is opened."""

import sqlite3
from importlib.resources import files
from pathlib import Path

from lastbolt.words.problem import Problem, Refusal

BUSY_MS = 10_000
_STEPS = ("0001_events.sql", "0002_photos.sql")
APPLICATION = 0x6C627431
"""Marks the file as ours ("lbt1")."""


def opened(path: Path) -> sqlite3.Connection:
    """A connection that may write, to a file that is up to date.

    Raises:
        Refusal: it is no database of ours, is of a later version, or cannot be had.
    """
    try:
        made = _connected(path)
        made.execute("PRAGMA journal_mode=WAL")
        made.execute("PRAGMA synchronous=FULL")
        _bring_up(made, path)
    except sqlite3.Error as error:
        what = f"The store of the records cannot be opened: {error}."
        do = "Check the folder and who may write there, or name another file with --store."
        raise Refusal(Problem("LB-E40", what, str(path), do, "stop")) from None
    return made


def reading(path: Path) -> sqlite3.Connection:
    """A connection that only reads."""
    made = _connected(path)
    made.execute("PRAGMA query_only=ON")
    return made


def _connected(path: Path) -> sqlite3.Connection:
    made = sqlite3.connect(path, timeout=BUSY_MS / 1000, isolation_level=None, check_same_thread=False)
    made.execute("PRAGMA foreign_keys=ON")
    return made


def _bring_up(made: sqlite3.Connection, path: Path) -> None:
    """Run the steps that this file has not had; each together with its number, or not at all."""
    made.execute("BEGIN IMMEDIATE")
    had = int(made.execute("PRAGMA user_version").fetchone()[0])
    ours = int(made.execute("PRAGMA application_id").fetchone()[0])
    tables = made.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    if had > len(_STEPS) or (tables and ours != APPLICATION):
        made.execute("ROLLBACK")
        made.close()
        what = "This database is of a later lastbolt, or of another program; it was left as it is."
        raise Refusal(Problem("LB-E40", what, str(path), "Name another file with --store.", "stop"))
    for number, name in enumerate(_STEPS[had:], start=had + 1):
        sql = files("lastbolt.edge.store").joinpath(name).read_text(encoding="utf-8")
        for statement in filter(str.strip, sql.split(";")):
            made.execute(statement)
        made.execute(f"PRAGMA user_version={number}")
    made.execute(f"PRAGMA application_id={APPLICATION}")
    made.execute("COMMIT")
