"""An exported record is tampered with in every way we can think of; each is found, and named."""

import json
import random
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench_devices import Device, exchange
from lastbolt.cli.main import main
from lastbolt.record.exported import export_lines, read_record
from lastbolt.record.sealed import hash_of
from lastbolt.record.verifying import verify_record
from lastbolt.words.problem import Refusal

SCHEMA = Path(__file__).parents[3] / "docs" / "schemas" / "verified-1.json"


def job() -> tuple[list[bytes], str]:
    """A small job of three devices, exported, and the head that its certificate prints."""
    server, one, other = Device("server"), Device("one"), Device("other")
    server.write("opened", goal="split the case")
    exchange(server, one, other)
    for number in range(4):
        one.write("took out", joint="case", places=[f"p{number}"])
        if number % 2:
            exchange(one, other)
        other.write("photo", joint="case", file=f"{number}.jpg")
    exchange(server, one, other)
    one.write("closing head", hold="h")
    other.hears(one)
    printed = other.sign("h")
    exchange(server, one, other)
    return list(export_lines(one.record)), printed


def changed(line: bytes, **fields: Any) -> bytes:
    return json.dumps({**json.loads(line), **fields}).encode()


def codes(lines: list[bytes], *printed: str) -> list[str]:
    return sorted({problem.code for problem in verify_record(lines, "f", printed).problems})


def test_an_untouched_record_is_whole_and_reads_back() -> None:
    lines, printed = job()
    found = verify_record(lines, "f", (printed,))
    assert found.whole
    assert found.problems == ()
    assert (found.before_printed, found.after_printed) == (len(lines) - 1, 0)
    record, wrong = read_record(lines, "f")
    assert wrong == ()
    assert list(export_lines(record)) == lines


@pytest.mark.parametrize("number", range(2, 10))
def test_an_edited_event_is_named(number: int) -> None:
    lines, _ = job()
    event = json.loads(lines[number])
    lines[number] = changed(lines[number], time="13:37")
    found = verify_record(lines, "f")
    told = [p for p in found.problems if f"line {number + 1}" in p.where or "was changed" in p.what]
    assert not found.whole
    assert any(f"vent {event['sequence']} of device {event['device']}" in problem.what for problem in told)
    assert told[0].code == "LB-E32"


@pytest.mark.parametrize("number", range(2, 10))
def test_a_dropped_event_is_named(number: int) -> None:
    lines, _ = job()
    gone = json.loads(lines.pop(number))
    what = f"Event {gone['sequence']} of device {gone['device']} is missing"
    assert any(problem.what.startswith(what) for problem in verify_record(lines, "f").problems)


def test_a_devices_only_event_edited_or_dropped_is_found_by_those_that_saw_it() -> None:
    lines, _ = job()
    found = verify_record([lines[0], changed(lines[1], time="13:37"), *lines[2:]], "f")
    assert [(p.code, p.where) for p in found.problems] == [("LB-E33", "f, line 3"), ("LB-E35", "f, line 2")]
    assert "LB-E33" in codes([lines[0], *lines[2:]])


def test_the_last_event_edited_or_dropped_shows_in_the_first_line() -> None:
    lines, _ = job()
    assert codes([*lines[:-1], changed(lines[-1], time="13:37")]) == ["LB-E35"]
    assert codes(lines[:-1]) == ["LB-E35"]


def test_a_cut_off_end_with_a_forged_first_line_shows_against_paper_only() -> None:
    lines, printed = job()
    record, _ = read_record([lines[0], *lines[1:-1]], "f")
    forged = list(export_lines(record))
    assert codes(forged) == [], "nothing in the file itself can tell"
    assert codes(forged, printed) == ["LB-E37"]


@pytest.mark.parametrize("number", range(1, 11))
def test_swapped_lines_are_found(number: int) -> None:
    lines, _ = job()
    lines[number], lines[number + 1] = lines[number + 1], lines[number]
    assert codes(lines) == ["LB-E34"]


def test_swapped_bodies_an_added_event_a_doubled_line_and_a_damaged_one_are_found() -> None:
    lines, _ = job()
    one, other = (n for n, line in enumerate(lines) if b'"p1"' in line or b'"p3"' in line)
    first, second = json.loads(lines[one]), json.loads(lines[other])
    parts = ("body", "subjects")
    swapped = list(lines)
    swapped[one] = changed(lines[one], **{part: second[part] for part in parts})
    swapped[other] = changed(lines[other], **{part: first[part] for part in parts})
    assert "LB-E32" in codes(swapped)
    forged = Device("one")
    record, _ = read_record(lines, "f")
    for event in record.present:
        forged.record.take(event)
        if event.device == "one":
            forged.sequence, forged.previous = event.sequence, event.hash
    forged.write("took out", joint="case", places=["p9"])
    assert codes([*lines, *forged.lines]) == ["LB-E35"]
    twin = changed(lines[4], time="13:37")
    assert "LB-E36" in codes([*lines, twin])
    assert codes([*lines, lines[3]]) == ["LB-E34"]
    assert "LB-E31" in codes([*lines[:4], lines[4][:-3], *lines[5:]])


@settings(deadline=None, max_examples=150)
@given(st.randoms(use_true_random=False))
def test_any_change_of_one_byte_is_found(dice: random.Random) -> None:
    lines, printed = job()
    raw = b"\n".join(lines)
    at = dice.randrange(len(lines[0]) + 1, len(raw))
    byte = bytes([dice.choice([b for b in range(256) if b != raw[at]])])
    spoiled = (raw[:at] + byte + raw[at + 1 :]).split(b"\n")
    assert not verify_record(spoiled, "f", (printed,)).whole


@pytest.mark.parametrize(
    "lines",
    [[], [b""], [b"{}"], [b'{"schema":"lastbolt.record/2","job":"j","events":0,"heads":[]}'], [b"[" * 99]],
)
def test_what_is_no_record_is_refused(lines: list[bytes]) -> None:
    with pytest.raises(Refusal) as refused:
        verify_record(lines)
    assert [problem.code for problem in refused.value.problems] == ["LB-E30"]


def test_the_command_says_so_and_by_its_exit_code(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines, printed = job()
    file = tmp_path / "job.record"
    file.write_bytes(b"\n".join(lines) + b"\n")
    spaced = " ".join(printed[i : i + 4] for i in range(0, 64, 4))
    assert main(["verify", str(file), "--head", spaced]) == 0
    assert "The record is whole" in capsys.readouterr().out
    assert main(["verify", str(file), "--head", "0" * 64]) == 1
    assert "LB-E37" in capsys.readouterr().out
    file.write_bytes(b"\n".join([*lines[:3], *lines[4:]]) + b"\n")
    assert main(["verify", str(file), "--json"]) == 1
    answer = json.loads(capsys.readouterr().out)
    jsonschema.validate(answer, json.loads(SCHEMA.read_text(encoding="utf-8")))
    assert hash_of(lines[3])[:12] in json.dumps(answer) or "is missing" in json.dumps(answer)
    for wrong in ([str(tmp_path / "none")], [str(file), "--head", "abc"], [str(SCHEMA)]):
        assert main(["verify", *wrong]) == 2
