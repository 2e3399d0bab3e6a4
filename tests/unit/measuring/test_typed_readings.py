"""Typed readings become events; a line that is not understood is never dropped."""

import pytest

from lastbolt.measuring.typed import Typed, typed_readings
from lastbolt.words.job import Measured, ReadingConfirmed, ZeroChecked


def measured(text: str) -> Measured:
    found = typed_readings(text)
    assert found.wrong == ()
    event = found.events[-1]
    assert isinstance(event, Measured)
    return event


@pytest.mark.parametrize(
    ("line", "spots"),
    [
        ("x: 0.12 0.13", [("1", 0.12), ("2", 0.13)]),
        ("x: 0,12 0,13", [("1", 0.12), ("2", 0.13)]),
        ("x: 0.12,0.13", [("1", 0.12), ("2", 0.13)]),
        ("x: 0.12; 0.13", [("1", 0.12), ("2", 0.13)]),
        ("x: top 86.02 86.03, end 86.01", [("top 1", 86.02), ("top 2", 86.03), ("end", 86.01)]),
        ("x: front 1.0, rear 1.1", [("front", 1.0), ("rear", 1.1)]),
        ("x: 86.02/86.03 86.01", [("1", 86.02), ("1", 86.03), ("2", 86.01)]),
        ("x: 0 .02 −0.01", [("1", 0.0), ("2", 0.02), ("3", -0.01)]),
        ("x: 0.12mm", [("1", 0.12)]),
    ],
)  # fmt: skip
def test_readings_and_their_places(line: str, spots: list[tuple[str, float]]) -> None:
    assert [(one.at, one.value) for one in measured(line).readings] == spots


def test_units_bars_and_travels() -> None:
    assert measured("x: 1.18 in").unit == "in"
    assert measured('x: 1.18"').unit == "in"
    event = measured("x: 55.32 55.31 mm less 10.00")
    assert (event.unit, event.less, len(event.readings)) == ("mm", 10.0, 2)
    travel = measured("x: 0.02 to 0.15, 0.03 to 0.16").readings
    assert [(one.value, one.to) for one in travel] == [(0.02, 0.15), (0.03, 0.16)]


def test_a_crush_strip_between_two_widths_of_its_scale() -> None:
    # Half way from 1.2 to 1.5, so half way from 0.051 to 0.038.
    found = measured("oil clearance: strip 1.35, 1.2 = 0.051, 1.5 = 0.038 mm")
    assert [one.value for one in found.readings] == [pytest.approx(0.0445)]
    assert found.unit == "mm"
    assert typed_readings("x: strip 1.6, 1.2 = 0.051, 1.5 = 0.038 mm").wrong


def test_what_stands_from_line_to_line() -> None:
    text = (
        "by Ama\nwith bore gauge 1\nzero 72.002 on 72.000\nat 75 F, tool 20 C\nof cast iron\nx: 1\n"
        "with caliper\ny: 2 # remark"
    )
    first, second = (event for event in typed_readings(text).events if isinstance(event, Measured))
    assert (first.by, first.tool, first.temperature_C, first.tool_temperature_C) == (
        "Ama",
        "bore gauge 1",
        23.89,
        20.0,
    )
    assert (first.material, second.material, second.tool) == ("cast iron", "", "caliper")
    zero = typed_readings(text).events[0]
    assert isinstance(zero, ZeroChecked)
    assert (zero.tool, zero.reads, zero.on) == ("bore gauge 1", 72.002, 72.0)


@pytest.mark.parametrize(
    "line",
    ["hullabaloo", "x:", "x: nothing", "x: 1 ?", "x: 1 mm 2 in", ": 0.1", "zero 0.00", "confirm line 9", "12",
     "x: 0.1 to 0.2 to 0.3", "x: standard 1 to 2", "shims for x: 0.81", "shims for x: measured 0.1",
     "valve 1: lash 0.12", "pinion shims: pack 1.5, plus thicker",
     "pinion shims: pack 1.5, old mark 1, new mark 2"],
)  # fmt: skip
def test_a_line_that_says_nothing_here_is_kept_with_its_number(line: str) -> None:
    found = typed_readings(f"by Ama\n{line}")
    assert [(one.line, one.text) for one in found.wrong] == [(2, line)]


def test_struck_and_confirmed_lines() -> None:
    found = typed_readings("x: 0.1\ny: 0.2\nstrike line 1\nby Ben\nconfirm line 2")
    first, second = found.events
    assert isinstance(first, Measured)
    assert isinstance(second, ReadingConfirmed)
    assert (first.what, second.reading, second.by) == ("y", first.id, "Ben")


def test_the_same_text_makes_the_same_events_and_each_its_own_id() -> None:
    text = "by Ama\nx: 0.1\nx: 0.1\nby Ben\nx: 0.1"
    assert typed_readings(text) == typed_readings(text)
    ids = [event.id for event in typed_readings(text).events]
    assert len(set(ids)) == 3


def test_a_limit_from_paper() -> None:
    found = typed_readings(
        "cylinder bore: standard 86.00 to 86.02, at most 86.10 mm\nplate: min 2.8 mm\nc: 1.5 in"
    ).limits
    assert [(one.what, one.sense) for one in found] == [("cylinder bore", "at most"), ("plate", "at least")]
    assert found[0].standard_mm == (86.0, 86.02)
    assert found[0].limit_mm == (None, 86.1)
    inches = typed_readings("bore: at most 1.5 in").limits[0]
    assert inches.limit_mm == (None, pytest.approx(38.1))


def test_shims_pinions_and_valves() -> None:
    found: Typed = typed_readings(
        "shims for end float: free 0.81 mm\nshims for preload: measured 0.05, shim takes away\n"
        "shims for float: free depth less height\n"
        "pinion shims: pack 1.50, old mark -5, new mark 3, bearing 0.02 narrower, plus thinner\n"
        "valve 1 intake: lash 0.12, shim 2.60"
    )
    assert found.wrong == ()
    assert [(one.value, one.named, one.factor) for one in found.shims] == [
        (0.81, "", None), (0.05, "", -1), (None, "depth less height", None)
    ]  # fmt: skip
    pinion = found.pinions[0]
    assert (pinion.pack, pinion.old_mark, pinion.new_mark, pinion.wider, pinion.factor) == (
        1.5,
        -5,
        3,
        -0.02,
        -1,
    )
    assert (found.valves[0].valve, found.valves[0].lash, found.valves[0].shim) == ("1 intake", 0.12, 2.6)
