"""Sizes in other units, warm ones, and those that are worked out of others; expected values by hand."""

import math

import pytest
from msgspec.structs import replace
from sizes import (
    BORE_GAUGE,
    CALIPER,
    DIAL,
    INCH,
    MICROMETER,
    TOOLS,
    job,
    limit,
    read,
    sheet,
)

from lastbolt.measuring.readings import Setting, judged
from lastbolt.words.job import Event, Measured, ReadingConfirmed
from lastbolt.words.measured import Limit, Span
from lastbolt.words.readings import Decided

TODAY = Setting(today="2026-12-01")
SIX = ("top 1", "top 2", "middle 1", "middle 2", "bottom 1", "bottom 2")


def one(*events: Event, setting: Setting = TODAY) -> Decided:
    found = judged(job(*events), sheet(), TOOLS, setting)
    assert len(found.decided) == 1
    return found.decided[0]


def test_an_inch_tool_is_read_in_inches() -> None:
    # 1.1814 in x 25.4 = 30.00756 mm
    made = one(read(1, "seat of front bearing", 1.1814, tool=INCH))
    assert made.value == pytest.approx(30.00756)
    assert made.says == "within"
    mixed = one(read(1, "seat of front bearing", 30.007, tool=INCH, unit="mm"))
    assert mixed.says == "not decided"
    assert any("reads in" in question for question in mixed.questions)


def test_a_book_in_inches_is_answered_in_inches() -> None:
    printed = Limit(
        "book/limit/x", "Layshaft, diameter", sense="at least",
        standard=Span(25.0063, 25.019, "mm"), printed_standard=(Span(0.9845, 0.985, "in"),),
        limit=Span(24.9809, None, "mm"), printed_limit=(Span(0.9835, 0.9835, "in"),),
    )  # fmt: skip
    lines = sheet(printed)
    assert (lines[0].standard, lines[0].service) == (Span(0.9845, 0.985, "in"), Span(0.9835, None, "in"))
    made = judged(job(read(1, "layshaft", 24.99, tool=MICROMETER)), lines, TOOLS).decided[0]
    # 24.99 / 25.4 = 0.983858; the certificate 0.004 mm = 0.000157 in with k 2.
    assert (made.unit, made.value) == ("in", pytest.approx(0.983858, abs=1e-6))
    assert made.uncertainty == pytest.approx(math.hypot(0.001 / 25.4 / math.sqrt(12), 0.002 / 25.4), rel=1e-3)
    other = replace(printed, printed_limit=(Span(0.99, 0.99, "in"),))
    assert sheet(other)[0].unit == "mm", "what does not convert into what was read is not trusted"


def test_a_size_that_is_warm_is_told_at_twenty_degrees() -> None:
    # 80 mm of aluminium 20 K too warm reads 0.037 mm large (23.1e-6 x 20 x 80 = 0.03696).
    size = sheet(limit("Cylinder bore", 80.0, 80.02, 80.05))
    event = read(1, "cylinder bore", 80.037, tool=BORE_GAUGE, temperature_C=40.0, material="aluminium")
    made = judged(job(event), size, TOOLS, TODAY).decided[0]
    assert made.value == pytest.approx(80.0, abs=1e-4)
    assert any("0.037 mm too large" in told for told in made.told)
    # A steel tool as warm as the part: the difference of the metals, (23.1 - 11.5)e-6 x 20 x 80 = 0.0186.
    both = read(
        1,
        "cylinder bore",
        80.0186,
        tool=BORE_GAUGE,
        temperature_C=40.0,
        tool_temperature_C=40.0,
        material="aluminium",
    )
    assert judged(job(both), size, TOOLS, TODAY).decided[0].value == pytest.approx(80.0, abs=2e-4)
    unsaid = judged(job(read(1, "cylinder bore", 80.01, tool=BORE_GAUGE)), size, TOOLS, TODAY).decided[0]
    assert unsaid.asked[0].startswith("At room temperature?")
    unknown = read(1, "cylinder bore", 80.01, tool=BORE_GAUGE, temperature_C=40.0, material="unobtainium")
    made = judged(job(unknown), size, TOOLS, TODAY).decided[0]
    assert made.value == pytest.approx(80.01)
    assert any("not corrected" in told for told in made.told)


def test_parts_too_hot_to_hold_are_asked() -> None:
    hot = read(1, "seat of front bearing", 30.001, tool=MICROMETER, temperature_C=240.0, material="steel")
    assert one(hot).questions[0] == "240 °C: were they so warm?"


def test_a_difference_carries_both_uncertainties() -> None:
    size = sheet(limit("Clearance, piston to bore", 0.03, 0.06, 0.12))
    events = (
        read(1, "big end bore of mine", 80.050, tool=BORE_GAUGE),
        read(2, "my piston", 80.002, tool=BORE_GAUGE),
        Measured(
            id="m3",
            by="Ama",
            what="piston to bore clearance",
            difference=("big end bore of mine", "my piston"),
        ),
    )
    found = judged(job(*events), size, TOOLS, TODAY)
    made = found.decided[0]
    assert made.value == pytest.approx(0.048)
    assert made.says == "within"
    first, second = found.sizes
    assert made.uncertainty == pytest.approx(math.hypot(first.uncertainty or 0, second.uncertainty or 0))


def test_what_goes_in_is_smaller_than_what_it_goes_into() -> None:
    size = sheet(limit("Clearance, piston to bore", 0.03, 0.06, 0.12))
    events = (
        read(1, "my bore", 80.002, tool=BORE_GAUGE), read(2, "my piston", 80.050, tool=BORE_GAUGE),
        Measured(id="m3", by="Ama", what="piston to bore clearance", difference=("my bore", "my piston")),
    )  # fmt: skip
    made = judged(job(*events), size, TOOLS, TODAY).decided[0]
    assert made.says == "not decided"
    assert "cannot go into the other" in made.questions[0]


def test_a_difference_of_what_nobody_measured_is_told() -> None:
    found = judged(
        job(Measured(id="m", by="Ama", what="free", difference=("depth a", "height b"))), sheet(), TOOLS
    )
    assert [problem.code for problem in found.problems] == ["LB-M06"]


def test_a_limit_in_another_unit_than_the_tool_is_asked() -> None:
    size = sheet(limit("Clutch spring force", 150.0, 170.0, 130.0, "at least", unit="N"))
    made = judged(job(read(1, "clutch spring force", 145.0, tool=CALIPER)), size, TOOLS, TODAY).decided[0]
    assert made.says == "not decided"
    assert "limits are in N" in made.questions[0]


def test_limits_of_taper_and_ovality_are_decided_by_the_readings_of_the_bore() -> None:
    bore, taper = limit("Cylinder bore", 71.988, 72.0, 72.02), limit("Cylinder bore taper", None, 0.01, 0.02)
    oval, other = (
        limit("Cylinder bore, ovality", None, 0.01, 0.005),
        limit("Sleeve ovality", None, 0.01, 0.05),
    )
    values = (72.000, 72.004, 72.006, 72.001, 72.012, 72.003)
    event = read(1, "cylinder bore", *values, tool=BORE_GAUGE, at=SIX, of="2")
    found = judged(job(event), sheet(bore, taper, replace(oval, standard=None), other), TOOLS).decided
    # Axis 1: 72.000, 72.006, 72.012: taper 0.012. Bottom: 72.012 and 72.003: ovality 0.009.
    assert {one.what: one.value for one in found} == {
        "Cylinder bore": 72.012,
        "Cylinder bore taper": pytest.approx(0.012),
        "Cylinder bore, ovality": pytest.approx(0.009),
    }  # fmt: skip
    assert {one.of for one in found} == {"2"}
    said = {one.what: one.says for one in found}
    # Uncertain by 0.005 x 1.41 = 0.007: 0.009 is past 0.005 by less.
    assert said["Cylinder bore, ovality"] == "too close for this tool"
    direct = read(2, "cylinder bore taper", 0.015, tool=DIAL, of="2")
    found = judged(job(event, direct), sheet(bore, taper), TOOLS).decided
    assert [one.value for one in found if one.what == taper.what] == [pytest.approx(0.015)]


def test_a_clearance_is_that_of_the_bore_and_what_runs_in_it() -> None:
    lines = sheet(
        limit("Cylinder bore", 71.988, 72.0, 72.10), limit("Valve stem to guide clearance", 0.02, 0.05, 0.1),
        limit("Piston diameter", 71.93, 71.95, 71.88, "at least"),
        limit("Piston to cylinder clearance", 0.04, 0.07, 0.12),
    )  # fmt: skip
    events = (
        read(1, "cylinder bore, cylinder 1", 72.010, tool=BORE_GAUGE),
        read(2, "piston diameter, no. 1", 71.940, tool=BORE_GAUGE),
        read(3, "cylinder bore, cylinder 2", 72.020, tool=BORE_GAUGE),
    )  # fmt: skip
    found = judged(job(*events), lines, TOOLS).decided
    clearances = [(one.of, one.value) for one in found if one.what == "Piston to cylinder clearance"]
    assert clearances == [("1", pytest.approx(0.070))]
    tight = read(5, "piston diameter, cylinder 2", 72.025, 72.025, tool=BORE_GAUGE)
    sure = ReadingConfirmed(id="c", by="Ben", reading="m5")
    two = [one for one in judged(job(*events, tight, sure), lines, TOOLS).decided if "clearance" in one.what]
    assert any("cannot go into the other" in question for one in two for question in one.questions)
    own = read(4, "piston to cylinder clearance, cylinder 1", 0.08, tool=CALIPER)
    found = judged(job(*events, own), lines, TOOLS).decided
    assert [one.tool for one in found if one.what == "Piston to cylinder clearance"] == ["caliper"]
