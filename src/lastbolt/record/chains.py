"""The record of one job: the set of its events. In whatever order they come, it ends alike; it never shrinks.

The causal past of an event is what it names (its device's previous event and the heads it had seen), and what
those name. Events are laid on chains, each ordered in itself, and every event knows how far it saw each
chain; so "before" is one look-up, also where one device's chain forked.
"""

from collections.abc import Iterable
from itertools import chain
from typing import Literal, NamedTuple

from msgspec import Struct

from lastbolt.record.sealed import Hash, NotAnEvent, SealedEvent, read_line
from lastbolt.words.problem import Problem


class Receipt(Struct, frozen=True, omit_defaults=True):
    """What became of one line."""

    status: Literal["kept", "known", "refused"]
    hash: Hash = ""
    problem: Problem | None = None


class Waiting(Struct, frozen=True):
    """An event that is here while something before it is not; `missing`: what it waits for, at the root."""

    event: SealedEvent
    missing: tuple[Hash, ...]


class Fork(Struct, frozen=True):
    """Several events of one place in a device's chain: two tabs, a copied device, or a forgery."""

    device: str
    sequence: int
    hashes: tuple[Hash, ...]


class Fault(Struct, frozen=True):
    """An event whose previous one is here and is not the one before it of its own device."""

    hash: Hash
    words: str


class _Spot(NamedTuple):
    """Where an event lies: its chain and place in it, how far it saw each chain, its depth."""

    chain: int
    place: int
    seen: dict[int, int]
    depth: int


class Record:
    """The events of one job, in any order of delivery."""

    def __init__(self, job: str) -> None:
        self.job = job
        self._events: dict[Hash, SealedEvent] = {}
        self._spots: dict[Hash, _Spot] = {}
        self._tips: dict[int, int] = {}
        self._waits: dict[Hash, set[Hash]] = {}
        self._waited: dict[Hash, list[Hash]] = {}
        self._named: set[Hash] = set()
        self._sorted: tuple[SealedEvent, ...] | None = ()

    def receive(self, line: bytes) -> Receipt:
        """Take one line: new, known already, or no event of this job."""
        try:
            event = read_line(line)
        except NotAnEvent as wrong:
            return Receipt("refused", problem=wrong.problem)
        if event.job != self.job:
            what = f'This event is of the job "{event.job}", not of this one.'
            do = "Send it to its own job."
            return Receipt("refused", event.hash, Problem("LB-E21", what, f'job "{self.job}"', do, "stop"))
        return Receipt("kept" if self.take(event) else "known", event.hash)

    def take(self, event: SealedEvent) -> bool:
        """Take an event that was read already; whether it is new."""
        if event.hash in self._events:
            return False
        self._events[event.hash] = event
        missing = {name for name in event.named if name not in self._spots}
        if not missing:
            self._admit(event)
            return True
        self._waits[event.hash] = missing
        for name in missing:
            self._waited.setdefault(name, []).append(event.hash)
        return True

    def _admit(self, event: SealedEvent) -> None:
        """Lay the event on its chain, and then what waited for nothing else."""
        ready = [event]
        self._sorted = None
        while ready:
            one = ready.pop()
            self._spots[one.hash] = self._spot(one)
            self._named.update(one.named)
            for waiting in self._waited.pop(one.hash, ()):
                left = self._waits[waiting]
                left.discard(one.hash)
                if not left:
                    del self._waits[waiting]
                    ready.append(self._events[waiting])

    def _spot(self, event: SealedEvent) -> _Spot:
        seen: dict[int, int] = {}
        depth = 0
        for name in event.named:
            spot = self._spots[name]
            depth = max(depth, spot.depth + 1)
            for number, place in spot.seen.items():
                if seen.get(number, 0) < place:
                    seen[number] = place
        before = self._spots.get(event.previous)
        if before and self._tips[before.chain] == before.place:
            number, place = before.chain, before.place + 1
        else:
            number, place = len(self._tips), 1
        self._tips[number] = seen[number] = place
        return _Spot(number, place, seen, depth)

    def __len__(self) -> int:
        return len(self._events)

    def __contains__(self, name: object) -> bool:
        return name in self._events

    def event(self, name: Hash) -> SealedEvent:
        """The event of this hash (KeyError when it is not here)."""
        return self._events[name]

    def is_present(self, name: Hash) -> bool:
        """Whether the event is here with its whole past."""
        return name in self._spots

    @property
    def present(self) -> tuple[SealedEvent, ...]:
        """The events whose whole past is here: by depth, device, sequence, hash, so each after its past."""
        if self._sorted is None:
            found = [self._events[name] for name in self._spots]
            found.sort(key=lambda one: (self._spots[one.hash].depth, one.device, one.sequence, one.hash))
            self._sorted = tuple(found)
        return self._sorted

    @property
    def waiting(self) -> tuple[Waiting, ...]:
        """The events that something before is missing of, by device and sequence."""
        held = sorted(
            (self._events[name] for name in self._waits), key=lambda e: (e.device, e.sequence, e.hash)
        )
        return tuple(Waiting(event, self._roots(event.hash)) for event in held)

    def _roots(self, name: Hash) -> tuple[Hash, ...]:
        """What is not here at all, and lies behind this event."""
        found, seen, left = set(), {name}, [name]
        while left:
            for missing in self._waits.get(left.pop(), ()):
                if missing not in self._events:
                    found.add(missing)
                elif missing not in seen:
                    seen.add(missing)
                    left.append(missing)
        return tuple(sorted(found))

    @property
    def forks(self) -> tuple[Fork, ...]:
        """The places of a device's chain at which several events stand."""
        at: dict[tuple[str, int], list[Hash]] = {}
        for event in self._events.values():
            at.setdefault((event.device, event.sequence), []).append(event.hash)
        return tuple(
            Fork(*place, tuple(sorted(hashes))) for place, hashes in sorted(at.items()) if len(hashes) > 1
        )

    @property
    def faults(self) -> tuple[Fault, ...]:
        """The events whose chain is not as it says."""
        found = []
        for event in sorted(self._events.values(), key=lambda e: (e.device, e.sequence, e.hash)):
            before = self._events.get(event.previous)
            if before and (before.device, before.sequence) != (event.device, event.sequence - 1):
                there = f"event {before.sequence} of {before.device}"
                words = f"event {event.sequence} of {event.device} follows {there}"
                found.append(Fault(event.hash, words))
        return tuple(found)

    @property
    def heads(self) -> tuple[Hash, ...]:
        """The present events that no present event names."""
        return tuple(sorted(name for name in self._spots if name not in self._named))

    def before(self, a: Hash, b: Hash) -> bool:
        """Whether the one is in the causal past of the other; both are present."""
        earlier, later = self._spots[a], self._spots[b]
        return a != b and later.seen.get(earlier.chain, 0) >= earlier.place

    def past(self, *of: Hash) -> frozenset[Hash]:
        """All that lies before any of these."""
        found: set[Hash] = set()
        left = list(of)
        while left:
            for name in self._events[left.pop()].named:
                if name not in found:
                    found.add(name)
                    left.append(name)
        return frozenset(found)

    def view(self, hashes: Iterable[Hash]) -> "Record":
        """The record of these present events and their whole past, and of nothing else."""
        wanted = tuple(hashes)
        made = Record(self.job)
        whole = self.past(*wanted).union(wanted)
        for event in sorted((self._events[name] for name in whole), key=lambda e: self._spots[e.hash].depth):
            made.take(event)
        return made

    def all_events(self) -> Iterable[SealedEvent]:
        """Every event, the present ones in their order first, then those that wait."""
        return chain(self.present, (one.event for one in self.waiting))


def received(job: str, lines: Iterable[bytes]) -> Record:
    """The record of a job after these lines."""
    record = Record(job)
    for line in lines:
        record.receive(line)
    return record
