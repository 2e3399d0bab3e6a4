"""Closure and order of a very large model, beside the time to decode its file: `python -m bench plan`.

The model is made up: 10,000 procedures with 10 steps each, a chain 5,000 deep through set-up blocks, the rest
needed by its last link. Seconds are the least of several runs, taken in turns in one process; the ratio is
the median of the runs.
"""

import gc
import statistics
import time

import msgspec

from lastbolt.app.make_plan import make_plan
from lastbolt.planning.book import Book, EngineKind
from lastbolt.planning.closure import Closure, close
from lastbolt.planning.state import Done
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import MODEL_SCHEMA, Machine, Mention, Procedure, Reference, Step

PROCEDURES, STEPS, CHAIN, RUNS = 10_000, 10, 5_000, 5


def cite(page: int, words: str) -> tuple[Citation, ...]:
    """One witness on a page."""
    return (Citation("manual", PdfPlace(page, f"4-{page}", (0.1, 0.2, 0.9, 0.3)), words),)


def reference(number: int, to: int, page: int) -> Reference:
    """A required condition."""
    words = f"unit {to} removed (see section {to})"
    target = (f"manual/procedure/{to}",)
    return Reference(f"manual/reference/{number}-{to}", words, "before", "resolved", target,
                     citations=cite(page, words))  # fmt: skip


def procedure(number: int, cited: bool) -> Procedure:
    """One procedure of the chain, or, past its end, one of those that its last link needs."""
    needs = [number + 1] if number < CHAIN - 1 else list(range(CHAIN, PROCEDURES)) * (number == CHAIN - 1)
    steps = tuple(
        Step(
            f"manual/step/{number}.{mark}", str(mark), f"Remove bracket {mark} of unit {number} off.",
            ("remove",), (Mention(f"bracket {mark}", "remove"),),
            citations=cite(number, f"Remove bracket {mark}") if cited else (),
        )
        for mark in range(1, STEPS + 1)
    )  # fmt: skip
    before = tuple(reference(number, to, number) for to in needs)
    return Procedure(f"manual/procedure/{number}", str(number), f"Removing unit {number}", "remove",
                     (f"unit {number}",), steps, before, citations=cite(number, "Removing"))  # fmt: skip


def model(cited: bool) -> bytes:
    """The model file."""
    procedures = tuple(procedure(number, cited) for number in range(PROCEDURES))
    return msgspec.json.encode(Machine(MODEL_SCHEMA, "made up", procedures=procedures))


def planned(machine: Machine) -> Closure:
    """Closure and order, lookups included."""
    return close(("manual/procedure/0",), Book(machine, EngineKind()), Done())


def main() -> list[tuple[str, str, str, str]]:
    """Rows of (what, value, unit, mark)."""
    rows: list[tuple[str, str, str, str]] = []
    for cited, name in ((True, "every step cited"), (False, "steps without citations")):
        data = model(cited)
        decoding, planning = [], []
        for _ in range(RUNS):
            began = time.perf_counter()
            machine = msgspec.json.decode(data, type=Machine)
            read = time.perf_counter()
            closure = planned(machine)
            planning.append(time.perf_counter() - read)
            decoding.append(read - began)
        assert len(closure.lines) == PROCEDURES * (STEPS + 1)
        ratios = [one / other for one, other in zip(planning, decoding, strict=True)]
        size = f"{PROCEDURES:,} procedures, {PROCEDURES * STEPS:,} steps, {name}"
        rows += [
            (f"plan: decode the model file, {size}", f"{min(decoding):.2f}", "s", ""),
            (f"plan: closure and order, chain {CHAIN:,} deep", f"{min(planning):.2f}", "s", ""),
            (
                "plan: closure and order over decoding",
                f"{statistics.median(ratios):.2f}",
                "times",
                "at most 2",
            ),
        ]
    del closure
    gc.disable()
    whole = []
    for _ in range(RUNS):
        began = time.perf_counter()
        make_plan(machine, "0")
        whole.append(time.perf_counter() - began)
    gc.enable()
    return [*rows, ("plan: the whole plan of it, as the command makes it", f"{min(whole):.2f}", "s", "")]


if __name__ == "__main__":
    for row in main():
        print(*row, sep="  ")
