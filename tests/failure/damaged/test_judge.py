"""The judge itself: it sees each of the faults that it is there for."""

import json
from pathlib import Path

import pytest

from failure.damaged.cases import OUT, Case, Kind
from failure.damaged.court import Court, Heard
from failure.damaged.judge import EARLIER, Bench

NAMED = "LB-F05  This is no PDF.\n  where harmed.pdf\n  do    Look at it.\n"
PROBLEM = {"code": "LB-F05", "what": "This is no PDF.", "where": "harmed.pdf", "do": "Look at it."}
REFUSED = Heard(2, json.dumps({"problems": [PROBLEM]}), NAMED, 0.1, 0.1, 50.0)
SOUND = b'{"schema": "lastbolt.model/1", "name": "a"}'


class Stub:
    """A court that answers as it is told, and writes what it is told."""

    def __init__(self, heard: Heard, writes: bytes | None = None, leaves: str = "") -> None:
        self.heard, self.writes, self.leaves = heard, writes, leaves

    def hear(self, argv: list[str], folder: Path) -> Heard:
        if self.writes is not None:
            (folder / EARLIER).write_bytes(self.writes)
        if self.leaves:
            (folder / self.leaves).write_bytes(b"left")
        return self.heard


def kind(**wants: object) -> Kind:
    def make(_: object, folder: Path) -> Case:
        (folder / "harmed.pdf").write_bytes(b"harmed")
        argv = ("read", "harmed.pdf", "--out", OUT)
        return Case(argv, ("harmed.pdf",), earlier=SOUND, **wants)  # type: ignore[arg-type]

    return Kind("stub", make)


def faults(folder: Path, stub: Stub, **wants: object) -> str:
    """All faults found with some inputs, which differ in what stood there before."""
    bench = Bench(folder)
    bench.court = stub  # type: ignore[assignment]
    bench._sound = SOUND
    return " ".join(fault for number in range(12) for fault in bench.faults(kind(**wants), number))


def test_a_refusal_that_names_the_file_is_right(tmp_path: Path) -> None:
    assert faults(tmp_path, Stub(REFUSED), wants="refused") == ""


@pytest.mark.parametrize(
    ("stub", "wants", "seen"),
    [
        (Stub(REFUSED._replace(err="Traceback (most recent call last)")), {}, "a fault of the program"),
        (Stub(REFUSED._replace(out="{}", err="LB-F05 no")), {}, "names the file"),
        (Stub(REFUSED._replace(out="no", err="no")), {}, "without a code"),
        (Stub(REFUSED._replace(code=3)), {}, "exit 3"),
        (Stub(REFUSED._replace(ended="it hung")), {}, "it hung"),
        (Stub(REFUSED._replace(cpu_s=99.0)), {}, "processor seconds"),
        (Stub(REFUSED._replace(memory_MB=9000.0)), {}, "9000 MB"),
        (Stub(REFUSED, b'{"sch'), {}, "was touched"),
        (Stub(REFUSED, leaves="out/.model.json.part"), {}, "was left there"),
        (Stub(REFUSED, leaves="harmed.pdf"), {}, "harmed.pdf was changed"),
        (Stub(REFUSED), {"wants": "read"}, "it could be read"),
        (Stub(REFUSED._replace(code=0), SOUND), {"wants": "told"}, "nothing is said"),
        (Stub(REFUSED._replace(code=1), b'{"sch'), {}, "no whole document"),
        (Stub(REFUSED._replace(code=0), SOUND), {"never_clear": True}, "clear to part"),
        (Stub(REFUSED._replace(code=1), b'{"schema": "lastbolt.model/1", "name": 5}'), {},
        "not by the schema"),
    ],
)  # fmt: skip
def test_each_fault_is_seen(tmp_path: Path, stub: Stub, wants: dict[str, object], seen: str) -> None:
    assert seen in faults(tmp_path, stub, **wants)


def test_fewer_facts_without_a_word_are_seen(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    bench.court = Stub(REFUSED._replace(code=0), SOUND)  # type: ignore[assignment]
    bench._sound = SOUND
    bench._of_whole = lambda name, folder: (9, 0)  # type: ignore[method-assign]
    found = [fault for number in range(12) for fault in bench.faults(kind(whole="harmed.pdf"), number)]
    assert any("0 steps and 0 rows of 9" in fault for fault in found)


def test_a_court_says_how_a_command_ended(tmp_path: Path) -> None:
    """The real one: a refusal, what the command printed, and its cost."""
    (tmp_path / "said").mkdir()
    court = Court(tmp_path / "said")
    try:
        heard = court.hear(["read", "gone.pdf", "--out", "m.json"], tmp_path)
    finally:
        court.close()
    assert (heard.code, heard.ended) == (2, "")
    assert "gone.pdf" in heard.err
    assert 20.0 < heard.memory_MB < 900.0
