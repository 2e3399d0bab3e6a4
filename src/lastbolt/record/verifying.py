"""Whether an exported record is as it was written: what was edited, dropped, added, swapped or cut off.

Every event is named by those after it, so a change shows in what no longer fits: a name without its event
and an event without its name. What stands last is named by the file's first line only, and by heads printed
on paper; who changes the end and the first line is found by paper alone.
"""

from collections.abc import Iterable, Iterator

from lastbolt.record.chains import Record
from lastbolt.record.exported import RecordHead, read_head
from lastbolt.record.sealed import Hash, SealedEvent
from lastbolt.words.problem import Problem
from lastbolt.words.verified import VERIFIED_SCHEMA, Verified

ASK = (
    "Get the file again from where it was exported, or the record from another device; work on from neither."
)
MOST_NAMED = 3


def verify_record(
    lines: Iterable[bytes], where: str = "the record", printed: tuple[Hash, ...] = ()
) -> Verified:
    """What is wrong with an exported record, and how far it reaches past the printed heads.

    Raises:
        Refusal: it is no exported record.
    """
    given = tuple(lines)
    head = read_head(given, where)
    reading = _Reading(head, where)
    for number, line in enumerate(given[1:], start=2):
        reading.line(line, number)
    problems = (*reading.problems, *reading.wrong_links(), *reading.wrong_ends(), *reading.not_there(printed))
    if not problems:
        problems = tuple(reading.out_of_place())
    record = reading.record
    known = [name for name in printed if record.is_present(name)]
    before = len(record.past(*known).union(known))
    return Verified(
        VERIFIED_SCHEMA, head.job, len(record), not problems, record.heads, printed,
        before, len(record) - before if known else 0, problems,
    )  # fmt: skip


class _Reading:
    """The lines of the file, and what is said of each."""

    def __init__(self, head: RecordHead, where: str) -> None:
        self.head, self.where = head, where
        self.record = Record(head.job)
        self.at: dict[Hash, int] = {}
        self.problems: list[Problem] = []
        self.changed: set[Hash] = set()

    def line(self, line: bytes, number: int) -> None:
        """Read one line of the file."""
        receipt = self.record.receive(line)
        place = f"{self.where}, line {number}"
        if receipt.problem:
            what = receipt.problem.what.replace("This line", f"Line {number}", 1)
            self.problems.append(Problem("LB-E31", what, place, ASK, "stop"))
        elif receipt.status == "known":
            what = f"{self._name(receipt.hash)} stands here again; it is on line {self.at[receipt.hash]}."
            self.problems.append(Problem("LB-E34", what, place, ASK, "stop"))
        else:
            self.at[receipt.hash] = number

    def _name(self, name: Hash) -> str:
        return named(self.record.event(name))

    def _place(self, name: Hash) -> str:
        return f"{self.where}, line {self.at[name]}"

    def wrong_links(self) -> Iterator[Problem]:
        """Names without their event: it was edited where another stands in its place, else it is missing."""
        events = tuple(self.record.all_events())
        by_place: dict[tuple[str, int], list[SealedEvent]] = {}
        for event in events:
            by_place.setdefault((event.device, event.sequence), []).append(event)
        told: set[Hash] = set()
        for event in events:
            if event.previous and event.previous not in self.record:
                told.add(event.previous)
                yield self._lost(event, by_place.get((event.device, event.sequence - 1), []))
        for event in events:
            for name in event.heads:
                if name not in self.record and name not in told:
                    told.add(name)
                    what = (
                        f"An event that {named(event)} had seen ({name[:12]}...) is missing or was changed."
                    )
                    yield Problem("LB-E33", what, self._place(event.hash), ASK, "stop")
        for fork in self.record.forks:
            what = f"Device {fork.device} has {len(fork.hashes)} different events of number {fork.sequence}."
            do = "One was added or changed, or two browsers wrote as one device: ask who wrote which."
            yield Problem("LB-E36", what, self._place(fork.hashes[-1]), do, "stop")
        for fault in self.record.faults:
            yield Problem("LB-E36", f"Out of its chain: {fault.words}.", self._place(fault.hash), ASK, "stop")

    def _lost(self, event: SealedEvent, there: list[SealedEvent]) -> Problem:
        if there:
            self.changed.update(one.hash for one in there)
            what = f"{named(there[0])} was changed: the event after it names another in its place."
            return Problem("LB-E32", what, self._place(there[0].hash), ASK, "stop")
        what = f"Event {event.sequence - 1} of device {event.device} is missing: {named(event)} follows it."
        return Problem("LB-E33", what, self._place(event.hash), ASK, "stop")

    def wrong_ends(self) -> Iterator[Problem]:
        """What the first line says of the number and the last events."""
        ends = {one.hash for one in self.record.all_events()} - {
            name for one in self.record.all_events() for name in one.named
        }
        gone = [name for name in self.head.heads if name not in self.record]
        fresh = sorted(ends - set(self.head.heads), key=lambda name: self.at[name])
        told = self.changed.union(one.event.hash for one in self.record.waiting)
        fresh = [name for name in fresh if name not in told]
        if gone:
            what = (
                f"{len(gone)} of the last events, as the first line names them, are missing or were changed."
            )
            yield Problem("LB-E35", what, f"{self.where}, line 1", ASK, "stop")
        for name in fresh:
            what = f"{self._name(name)} is named by nothing: it was added or changed after the export."
            yield Problem("LB-E35", what, self._place(name), ASK, "stop")
        if self.head.events != len(self.record):
            what = f"The first line says {self.head.events} events; there are {len(self.record)}."
            yield Problem("LB-E35", what, f"{self.where}, line 1", ASK, "stop")

    def not_there(self, printed: tuple[Hash, ...]) -> Iterator[Problem]:
        """Printed heads that are not in the file."""
        for name in printed:
            if name not in self.record:
                what = (
                    "The event whose hash is printed is not in this record: its end was cut off or changed."
                )
                do = "Compare the hash with the paper; if it is right, this is not the record of that paper."
                yield Problem("LB-E37", what, f"{self.where}, head {name}", do, "stop")

    def out_of_place(self) -> Iterator[Problem]:
        """The first line that does not stand where an export puts it."""
        for number, event in enumerate(self.record.all_events(), start=2):
            if self.at[event.hash] != number:
                what = f"Lines were swapped: {named(event)} belongs on line {number}."
                yield Problem("LB-E34", what, self._place(event.hash), ASK, "stop")
                return


def named(event: SealedEvent) -> str:
    """An event for people: "Event 3 of device b7 (took out, p7)"."""
    about = ", ".join(subject.id for subject in event.subjects[:MOST_NAMED])
    return f"Event {event.sequence} of device {event.device} ({event.tag}{', ' if about else ''}{about})"
