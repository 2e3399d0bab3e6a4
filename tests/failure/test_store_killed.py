"""`kill -9` of the writer at random moments: no answered event is lost, and no batch is kept by half."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from bench_devices import JOB
from lastbolt.edge.store.record_store import RecordStore

SCRIPT = Path(__file__).with_name("killed_writer.py")
ROUNDS, BATCH = 100, 5

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")


def killed_rounds(path: Path, rounds: int, seed: int) -> list[list[list[str]]]:
    command = [sys.executable, str(SCRIPT), str(path), str(rounds), str(seed)]
    done = subprocess.run(command, capture_output=True, check=True, text=True, timeout=500)
    answered: list[list[list[str]]] = json.loads(done.stdout)
    return answered


def check(path: Path, answered: list[list[list[str]]]) -> tuple[int, int]:
    """Open the store as after a crash and look; how many batches were answered, how many are there."""
    store = RecordStore(path)
    assert store.ask("PRAGMA integrity_check") == [("ok",)]
    record = store.record(JOB)
    for batches in answered:
        for batch in batches:
            assert all(name in record for name in batch), "answered for, and lost"
    assert record.waiting == ()
    assert record.forks == ()
    assert len(record) % BATCH == 0, "a batch is kept whole or not at all"
    by_device: dict[str, int] = {}
    for event in record.present:
        by_device[event.device] = by_device.get(event.device, 0) + 1
    for number, batches in enumerate(answered):
        kept = by_device.get(f"d{number}", 0) // BATCH
        assert len(batches) <= kept <= len(batches) + 1, "at most the one that was on its way is more"
    store.close()
    return sum(map(len, answered)), len(record) // BATCH


def test_a_hundred_kills_lose_nothing_that_was_answered(tmp_path: Path) -> None:
    answered, kept = check(tmp_path / "s.db", killed_rounds(tmp_path / "s.db", ROUNDS, 5))
    assert answered > ROUNDS, "the writers were at work when they were killed"
    assert kept >= answered


@pytest.mark.long
@pytest.mark.parametrize("seed", range(10))
def test_a_thousand_kills(tmp_path: Path, seed: int) -> None:
    check(tmp_path / "s.db", killed_rounds(tmp_path / "s.db", ROUNDS, 100 + seed))
