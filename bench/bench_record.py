"""The record of jobs: kept over HTTP, replayed, verified; the server's memory: `python -m bench record`."""

import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from bench_devices import Device  # noqa: E402
from lastbolt.edge.bench_web.jobs import Jobs, Papers  # noqa: E402
from lastbolt.edge.bench_web.routes import room_of  # noqa: E402
from lastbolt.edge.bench_web.serving import LOOPBACK, Place, serve  # noqa: E402
from lastbolt.edge.store.record_store import RecordStore  # noqa: E402
from lastbolt.record.chains import received  # noqa: E402
from lastbolt.record.exported import export_lines  # noqa: E402
from lastbolt.record.registers import registers  # noqa: E402
from lastbolt.record.verifying import verify_record  # noqa: E402

Row = tuple[str, str, str, str]
DEVICES, BENCHES, SECONDS, PARTS = 200, 12, 10, 3
LONG_JOB = 5_000


def serve_class(folder: str) -> None:
    """A class's server, until killed; its port and the devices' tokens are printed."""
    store = RecordStore(Path(folder) / "records.db")
    jobs = Jobs(store, Papers(lambda job: None, lambda job: None))
    room = room_of(jobs, secure=False)
    opened = [jobs.open_job(goal="bench") for _ in range(BENCHES)]
    given = []
    for number in range(DEVICES):
        job = opened[number % BENCHES]
        token, ticket = room.people.admit(job, "trainee", f"device-{number}", "Ada")
        given.append({"token": token, "device": ticket.device, "person": ticket.person, "job": job})
    made = serve(room, Place(LOOPBACK, 0))
    print(json.dumps({"port": made.listening.getsockname()[1], "devices": given}), flush=True)
    made.run()


def rss_mb(process: int) -> float:
    """The memory of a process."""
    return int(Path(f"/proc/{process}/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 1e6


def over_http() -> list[Row]:
    """500 events a second from 200 devices, each on the disk before its answer; and no event lost."""
    rows: list[Row] = []
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, __file__, "serve", folder]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
            assert server.stdout is not None
            told = json.loads(server.stdout.readline())
            found, memory = [], [rss_mb(server.pid)]
            for part in range(PARTS):
                found.append(_loaded(told["port"], told["devices"], part))
                memory.append(rss_mb(server.pid))
            server.kill()
        store = RecordStore(Path(folder) / "records.db")
        kept = store.ask("SELECT count(*) FROM events")[0][0] - BENCHES
        store.close()
    waits = sorted(wait for one in found for wait in one["waits"])
    sent, share = sum(one["sent"] for one in found), max(one["share"] for one in found)
    p50, p99 = waits[len(waits) // 2], waits[len(waits) * 99 // 100]
    pace = min(one["pace"] for one in found)
    rows.append(
        ("record: events a second over HTTP, 200 devices, each durable first", f"{pace:.0f}", "/s", "500")
    )
    rows.append(("record: wait for the answer, median", f"{p50:.1f}", "ms", ""))
    rows.append(("record: wait for the answer, p99", f"{p99:.1f}", "ms", "at most 50"))
    rows.append(("record: answered events that are not there after a kill", str(sent - kept), "", "0"))
    rows.append(("record: share of the two cores that the load takes", f"{share * 100:.0f}", "%", "said"))
    grown = f"{memory[1]:.0f} to {memory[-1]:.0f}"
    rows.append((f"record: server's memory after 1 and {PARTS} parts of the load", grown, "MB", "flat"))
    return rows


def _loaded(port: int, devices: list[dict[str, str]], part: int) -> dict[str, object]:
    """One part of the load, in a process of its own."""
    script = str(Path(__file__).with_name("load_record.py"))
    done = subprocess.run(
        [sys.executable, script, str(port), str(SECONDS), str(part)],
        input=json.dumps(devices), capture_output=True, check=True, text=True,
    )  # fmt: skip
    result: dict[str, object] = json.loads(done.stdout)
    return result


def replayed() -> list[Row]:
    """How fast a long job of six devices is received and read, and verified."""
    devices = [Device(f"r{number}", job="long") for number in range(6)]
    for number in range(LONG_JOB):
        device = devices[number % 6]
        if number % 50 == 0:
            device.hears(*devices)
        device.write("took out", joint="case", places=[f"p{number % 40}"])
    lines = [line for device in devices for line in device.lines]
    began = time.perf_counter()
    record = received("long", lines)
    registers(record)
    once = time.perf_counter() - began
    exported = list(export_lines(record))
    began = time.perf_counter()
    assert verify_record(exported).whole
    again = time.perf_counter() - began
    return [
        ("record: events a second, received and replayed", f"{LONG_JOB / once:.0f}", "/s", ""),
        ("record: events a second, verified", f"{LONG_JOB / again:.0f}", "/s", ""),
    ]


def main() -> list[Row]:
    """The rows of the table."""
    return [*over_http(), *replayed()]


if __name__ == "__main__":
    if sys.argv[1:2] == ["serve"]:
        serve_class(sys.argv[2])
    else:
        for row in main():
            print(*row, sep="  ")
