"""Sizes and strength classes are designations: no part of them is a count, a torque or another's length.

Sources, from memory: ISO 261:1998, table 2 (diameters with their coarse and fine pitches); ISO 898-1:2013
(property
classes of bolts and screws, 4.6 to 12.9).
"""

from pathlib import Path
from typing import Any

import pytest

from reference.printed import read_file, read_lines, steps_of

COARSE = {
    3: "0.5", 4: "0.7", 5: "0.8", 6: "1", 8: "1.25", 10: "1.5", 12: "1.75", 14: "2", 16: "2", 18: "2.5",
    20: "2.5",
    22: "2.5", 24: "3", 30: "3.5",
}  # fmt: skip
FINE = {
    8: ("1",), 10: ("1.25", "1"), 12: ("1.5", "1.25"), 14: ("1.5",), 16: ("1.5",), 18: ("2", "1.5"),
    20: ("2", "1.5"), 22: ("2", "1.5"), 24: ("2",), 30: ("2",),
}  # fmt: skip
CLASSES = ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9")
PITCHES = [(size, COARSE[size]) for size in COARSE] + [(size, pitch) for size in FINE for pitch in FINE[size]]


def sizes(size: int, pitch: str) -> set[str]:
    """What the thread may be called: a coarse one also without its pitch."""
    named = {f"M{size}x{pitch}", f"M{size} x {pitch}"}
    return named | ({f"M{size}"} if COARSE[size] == pitch else set())


def the_one(step: dict[str, Any]) -> tuple[Any, ...]:
    """Count, thread, length and class of the step's fasteners; what else it holds must be nothing."""
    (mention,) = step["mentions"]
    kind = mention["kind"]
    assert not step.get("torques")
    assert not step.get("limits")
    return mention["quantity"]["low"], kind["thread"], kind.get("length_mm"), kind.get("strength")


@pytest.mark.parametrize("form", ["M{0} x {1} x 40", "M{0}x{1}x40", "M{0} × {1} × 40"])
def test_a_pitch_is_no_length(tmp_path: Path, form: str) -> None:
    lines = [f"{n}. Remove the 3 bolts {form.format(*one)}." for n, one in enumerate(PITCHES, start=1)]
    steps = steps_of(read_lines(tmp_path, lines))
    read = [(pitch, the_one(step)) for step, pitch in zip(steps, PITCHES, strict=True)]
    assert not [
        (p, told) for p, told in read if told[0] != 3 or told[1] not in sizes(*p) or told[2:] != (40.0, None)
    ]


def test_a_pitch_alone_is_no_length(tmp_path: Path) -> None:
    lines = [
        f"{n}. Remove the 5 bolts M{size} x {pitch}." for n, (size, pitch) in enumerate(PITCHES, start=1)
    ]
    steps = steps_of(read_lines(tmp_path, lines))
    read = [(pitch, the_one(step)) for step, pitch in zip(steps, PITCHES, strict=True)]
    assert not [
        (p, told) for p, told in read if told[0] != 5 or told[1] not in sizes(*p) or told[2] is not None
    ]


def test_a_length_is_no_pitch(tmp_path: Path) -> None:
    lengths = [(size, length) for size in (5, 6, 8, 10, 12, 16) for length in (8, 12, 16, 20, 25, 70)]
    lines = [
        f"{n}. Remove the 2 bolts M{size} x {length}." for n, (size, length) in enumerate(lengths, start=1)
    ]
    steps = steps_of(read_lines(tmp_path, lines))
    read = [the_one(step) for step in steps]
    assert read == [(2, f"M{size}", float(length), None) for size, length in lengths]


NO_PART = pytest.mark.xfail(strict=True, reason='a part "strength class" is read beside the screws')
CLASS_FORMS = (
    "M8 x 25, class {}", "M8 x 25 {}", "M8 x 25 - {}", "M8 x 25 ({})", "M8 x 25, property class {}",
    "M8 x 25 of class {}", pytest.param("M8 x 25, strength class {}", marks=NO_PART),
)  # fmt: skip


@pytest.mark.parametrize("form", CLASS_FORMS)
def test_a_class_is_no_value(tmp_path: Path, form: str) -> None:
    """Count, thread and length stay what they are."""
    lines = [f"{n}. Remove the 3 screws {form.format(one)}." for n, one in enumerate(CLASSES, start=1)]
    read = [the_one(step) for step in steps_of(read_lines(tmp_path, lines))]
    assert [told[:3] for told in read] == [(3, "M8", 25.0)] * len(CLASSES)
    assert {told[3] for told in read} <= {*CLASSES, None}


@pytest.mark.parametrize("form", ["M8 x 25, class {}", "M8 x 25 {}", "M8 x 25 - {}"])
def test_a_class_is_read_as_one(tmp_path: Path, form: str) -> None:
    lines = [f"{n}. Remove the 3 screws {form.format(one)}." for n, one in enumerate(CLASSES, start=1)]
    assert [the_one(step)[3] for step in steps_of(read_lines(tmp_path, lines))] == list(CLASSES)


def test_a_list_keeps_them_apart(tmp_path: Path) -> None:
    """The same in the rows of a parts list."""
    rows = [(size, pitch, CLASSES[n % len(CLASSES)]) for n, (size, pitch) in enumerate(PITCHES)]
    text = "figure,item,part_number,description,qty\n" + "".join(
        f'1,{n},W-{n},"Screw, hex, M{size} x {pitch} x 40 - {strength}",4\n'
        for n, (size, pitch, strength) in enumerate(rows, start=1)
    )
    (tmp_path / "list.csv").write_text(text, encoding="utf-8")
    read = read_file(tmp_path, "list.csv")["rows"]
    for row, (size, pitch, strength) in zip(read, rows, strict=True):
        assert row["quantity"]["low"] == 4
        assert row["kind"]["thread"] in sizes(size, pitch)
        assert (row["kind"]["length_mm"], row["kind"]["strength"]) == (40.0, strength)
