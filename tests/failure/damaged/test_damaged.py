"""Damaged and hostile inputs through the whole command: 300 every day, 5,000 in the long profile.

For each: exit 0, 1 or 2 and never a traceback, in time and within memory, a problem with its code that names
the
file when something is refused or facts are fewer, and whatever stood in the file to write whole or untouched.
`again.py` tries single inputs by hand; `judge.py` says what is judged.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from failure.damaged.cases import Kind
from failure.damaged.judge import Bench
from failure.damaged.kinds import KINDS, shared_out
from failure.damaged.known import KNOWN, Known, is_known

DAILY = shared_out(300, heavy=1)
LONG = shared_out(5000, heavy=10)
CHUNK = 24
CHUNKS = [(kind, first) for kind in KINDS for first in range(DAILY[kind.name], LONG[kind.name], CHUNK)]


@pytest.fixture(scope="session")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """A court for all inputs of this process."""
    made = Bench(tmp_path_factory.mktemp("bench"))
    yield made
    made.court.close()


def test_the_profiles_have_as_many_inputs_as_they_say() -> None:
    assert (sum(DAILY.values()), sum(LONG.values())) == (300, 5000)
    assert all(0 < DAILY[kind.name] < LONG[kind.name] for kind in KINDS)
    assert len({kind.name for kind in KINDS}) == len(KINDS)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_day(bench: Bench, kind: Kind) -> None:
    assert_right(bench, kind, range(DAILY[kind.name]))


@pytest.mark.long
@pytest.mark.parametrize(("kind", "first"), CHUNKS, ids=[f"{kind.name}-{first}" for kind, first in CHUNKS])
def test_long(bench: Bench, kind: Kind, first: int) -> None:
    assert_right(bench, kind, range(first, min(first + CHUNK, LONG[kind.name])))


def assert_right(bench: Bench, kind: Kind, numbers: range) -> None:
    """The program does right with each of the kind's inputs, but for the faults that are known."""
    faults = [fault for number in numbers for fault in bench.faults(kind, number)]
    assert not [fault for fault in faults if not is_known(fault)]


@pytest.mark.parametrize("known", KNOWN, ids=lambda known: f"{known.kind}-{known.example}")
@pytest.mark.xfail(strict=True, reason="known faults of the program: known.py names each")
def test_known_faults(bench: Bench, known: Known) -> None:
    kind = next(one for one in KINDS if one.name == known.kind)
    assert not bench.faults(kind, known.example)


@pytest.mark.long
@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind.heavy], ids=lambda kind: kind.name)
def test_with_the_own_limits_of_the_command(tmp_path: Path, kind: Kind) -> None:
    """One of each heavy kind with the time and memory that the command itself gives a page."""
    bench = Bench(tmp_path / "bench", own_limits=True)
    try:
        assert_right(bench, kind, range(LONG[kind.name], LONG[kind.name] + 1))
    finally:
        bench.court.close()
