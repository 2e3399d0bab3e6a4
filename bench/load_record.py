"""200 devices that send to a bench's server at a given pace: `python load_record.py PORT SECONDS PART`.

A process of its own, so that its share of the cores can be told. Tokens come in as JSON, figures go out.
"""

import asyncio
import json
import resource
import sys
import time
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1] / "tests")]

from bench_devices import Device  # noqa: E402

PER_SECOND = 500


class Link:
    """One device's connection, kept open."""

    def __init__(self, given: dict[str, str]) -> None:
        self.device = Device(given["device"], given["person"], given["job"])
        self.head = (
            f"POST /api/jobs/{given['job']}/events HTTP/1.1\r\nHost: bench\r\n"
            f"Authorization: Bearer {given['token']}\r\nContent-Type: application/x-ndjson\r\n"
        )

    async def open(self, port: int) -> None:
        """Connect."""
        self.read, self.write = await asyncio.open_connection("127.0.0.1", port)

    async def send(self, number: int) -> float:
        """Send one event; how long its answer took, in ms."""
        line = self.device.lines[number] + b"\n"
        began = time.perf_counter()
        self.write.write(f"{self.head}Content-Length: {len(line)}\r\n\r\n".encode() + line)
        head = await self.read.readuntil(b"\r\n\r\n")
        length = int(head.lower().partition(b"content-length: ")[2].partition(b"\r\n")[0])
        body = await self.read.readexactly(length)
        assert b'"kept"' in body, body
        return (time.perf_counter() - began) * 1000


async def run(port: int, seconds: int, part: int, given: list[dict[str, str]]) -> dict[str, object]:
    """Send at the pace, whatever the answers do; the waits. `part`: parts of the lesson that came before."""
    links = [Link(one) for one in given]
    total = PER_SECOND * seconds
    for number in range(total * part):
        links[number % len(links)].device.write("photo", joint="case", file=f"{number}.jpg")
    for link in links:
        link.device.lines.clear()
    for number in range(total * part, total * (part + 1)):
        links[number % len(links)].device.write("photo", joint="case", file=f"{number}.jpg")
    for link in links:
        await link.open(port)
    tasks, before = [], resource.getrusage(resource.RUSAGE_SELF)
    began = time.perf_counter()
    for number in range(total):
        await asyncio.sleep(max(0.0, began + number / PER_SECOND - time.perf_counter()))
        tasks.append(asyncio.create_task(links[number % len(links)].send(number // len(links))))
    waits = await asyncio.gather(*tasks)
    took, after = time.perf_counter() - began, resource.getrusage(resource.RUSAGE_SELF)
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return {"waits": sorted(waits), "pace": total / took, "share": used / took / 2, "sent": total}


if __name__ == "__main__":
    asked = [int(word) for word in sys.argv[1:4]]
    print(json.dumps(asyncio.run(run(*asked, json.loads(sys.stdin.read())))))
