"""A writer that is killed at random moments: `python killed_writer.py STORE ROUNDS SEED`.

Each round a child process opens the store and appends batches; every batch that the store answered for it
names on a pipe. The parent kills it (signal 9) after a random time, and prints what was answered.
"""

import json
import os
import random
import signal
import sys
import time
from pathlib import Path
from typing import BinaryIO

sys.path.insert(0, str(Path(__file__).parents[1]))

from bench_devices import JOB, Device
from lastbolt.edge.store.record_store import RecordStore

BATCH = 5
LONGEST_S = 0.06


def write(path: Path, name: str, said: BinaryIO) -> None:
    """Append batches of events until killed; name each batch when it is answered."""
    said.write(b"ready\n")
    said.flush()
    store = RecordStore(path)
    device = Device(name)
    while True:
        hashes = [device.write("photo", joint="case", file=f"{number}.jpg") for number in range(BATCH)]
        receipts = store.append(JOB, device.lines[-BATCH:]).result()
        assert [one.status for one in receipts] == ["kept"] * BATCH
        said.write(json.dumps(hashes).encode() + b"\n")
        said.flush()


def killed(path: Path, name: str, wait_s: float) -> list[list[str]]:
    """One writer, killed; the batches that it was answered for."""
    read, written = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read)
        with os.fdopen(written, "wb") as said:
            write(path, name, said)
        os._exit(1)
    os.close(written)
    with os.fdopen(read, "rb") as heard:
        assert heard.readline() == b"ready\n"
        time.sleep(wait_s)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        rest = heard.read().split(b"\n")
    return [json.loads(line) for line in rest[:-1]]


def main(path: Path, rounds: int, seed: int) -> None:
    """All rounds on one store; what was answered for, as JSON."""
    dice = random.Random(seed)
    print(json.dumps([killed(path, f"d{n}", dice.uniform(0, LONGEST_S)) for n in range(rounds)]))


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
