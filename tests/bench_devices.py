"""Devices at a bench, as the record's tests need them: each keeps its own record and writes events on it."""

from typing import Any

from lastbolt.record.chains import Record
from lastbolt.record.holds import evidence_digest
from lastbolt.record.kinds import KIND_OF, subjects_of
from lastbolt.record.sealed import Unsealed, hash_of, seal

JOB = "job1"


class Device:
    """One browser: it has what it was given, and adds to it."""

    def __init__(self, name: str, by: str = "", job: str = JOB) -> None:
        self.name, self.by, self.job = name, by or f"p-{name}", job
        self.record = Record(job)
        self.sequence, self.previous = 0, ""
        self.lines: list[bytes] = []

    def fields(self, body: dict[str, Any], **other: Any) -> Unsealed:
        """The event before it is sealed."""
        heads = tuple(name for name in self.record.heads if name != self.previous)
        given = {
            "subjects": subjects_of(body, other.pop("occupancies", None)), "time": "12:00", "by": self.by,
            "heads": heads, "sequence": self.sequence + 1, "previous": self.previous, **other,
        }  # fmt: skip
        return Unsealed(device=self.name, job=self.job, kind=KIND_OF[body["event"]], body=body, **given)

    def write(self, event: str, **body: Any) -> str:
        """Write an event; its hash."""
        return self.say({"event": event, **body})

    def say(self, body: dict[str, Any], **other: Any) -> str:
        """Write an event with this body; its hash."""
        line = seal(self.fields(body, **other))
        assert self.record.receive(line).status == "kept"
        self.sequence, self.previous = self.sequence + 1, hash_of(line)
        self.lines.append(line)
        return self.previous

    def hears(self, *others: "Device") -> None:
        """Get all that the others have."""
        for other in others:
            for event in other.record.all_events():
                self.record.take(event)

    def sign(self, hold: str, verdict: str = "free", event: str = "signed", **more: Any) -> str:
        """Sign a hold on all that this device has."""
        body = {"hold": hold, "verdict": verdict, "evidence": evidence_digest(self.record), **more}
        return self.write(event, **body)


def exchange(*devices: Device) -> None:
    """Everybody hears everybody."""
    for one in devices:
        one.hears(*devices)
    for one in devices:
        one.hears(*devices)
