"""Readings are decided as a careful mechanic would; what is expected is worked out by hand."""

import math

import pytest
from msgspec.structs import replace
from sizes import (
    BORE,
    BORE_GAUGE,
    CALIPER,
    CLASH,
    FLOAT,
    MICROMETER,
    PLATE,
    SEAT,
    TOOLS,
    job,
    limit,
    read,
    sheet,
)

from lastbolt.measuring.readings import Judged, Setting, judged
from lastbolt.words.job import Event, Measured, ReadingConfirmed, Renewed, Tightened, Undone, ZeroChecked
from lastbolt.words.measured import Reading
from lastbolt.words.readings import Decided

TODAY = Setting(today="2026-12-01")
SIX = ("top 1", "top 2", "middle 1", "middle 2", "bottom 1", "bottom 2")


def of(*events: Event, setting: Setting = TODAY) -> Judged:
    return judged(job(*events), sheet(), TOOLS, setting)


def one(*events: Event, setting: Setting = TODAY) -> Decided:
    found = of(*events, setting=setting)
    assert found.problems == ()
    assert len(found.decided) == 1
    return found.decided[0]


def test_two_readers_of_an_end_float() -> None:
    made = one(
        read(1, "End float, layshaft", 0.41, 0.42, 0.41), read(2, "end float", 0.42, 0.41, 0.42, by="Ben")
    )
    assert made.value == pytest.approx(0.415)
    # All six: s = 0.005477, of the mean 0.002236; the readers differ by less.
    # Step 0.01 twice, certificate 0.01 with k 2.
    by_hand = math.sqrt(0.002236**2 + 2 * (0.01 / math.sqrt(12)) ** 2 + 0.005**2)
    assert made.uncertainty == pytest.approx(by_hand, rel=1e-3)
    assert (made.says, made.side, made.readers) == ("beyond", "high", ("Ama", "Ben"))
    assert any("ran out on 2026-06-30" in told for told in made.told)
    assert made.citations[0].place == FLOAT.citations[0].place


def test_two_readings_count_with_their_whole_difference() -> None:
    # 0.02 apart: u = 0.02, with the step 0.01 twice and the certificate 0.005: sqrt(4e-4 + 1.667e-5 + 2.5e-5)
    made = one(read(1, "end float", 0.15, 0.17))
    assert made.uncertainty == pytest.approx(math.sqrt(4e-4 + 1.6667e-5 + 2.5e-5), rel=1e-4)
    assert made.k == pytest.approx(1.96, abs=0.01)


def test_a_coarse_tool_cannot_tell_and_a_finer_one_decides() -> None:
    coarse = read(1, "seat of front bearing", 30.0, 30.0, tool=CALIPER)
    assert one(coarse).says == "too close for this tool"
    fine = read(2, "seat of front bearing", 30.001, 30.000, tool=MICROMETER)
    made = one(coarse, fine)
    assert made.says == "worn, within limit"
    assert made.tool == MICROMETER.name
    assert any("Also read 30 mm with caliper" in told for told in made.told)


def test_the_worst_place_decides_on_the_side_it_wears_to() -> None:
    bore = one(
        read(
            1,
            "bore of front bearing",
            72.004,
            72.006,
            72.003,
            72.009,
            72.002,
            72.005,
            tool=BORE_GAUGE,
            at=SIX,
        )
    )
    assert bore.value == pytest.approx(72.009)
    # Axis 1: 72.004, 72.003, 72.002; axis 2: 72.006, 72.009, 72.005: taper 0.004.
    # Middle: 72.003 and 72.009: ovality 0.006.
    assert bore.beside[:2] == ("taper 0.004 mm", "ovality 0.006 mm")
    plate = one(read(2, "friction plate", 3.05, 2.95, 3.0, tool=CALIPER))
    assert plate.value == pytest.approx(2.95)
    assert plate.says == "worn, within limit"


def test_run_out_is_the_largest_less_the_smallest_of_each_turn() -> None:
    made = one(
        read(1, "run-out of layshaft", 0.0, 0.02, -0.01, 0.01),
        read(2, "runout layshaft", 0.0, 0.02, 0.0, by="Ben"),
    )
    assert made.value == pytest.approx((0.03 + 0.02) / 2)
    assert made.says == "worn, within limit"


def test_a_dial_read_at_both_ends() -> None:
    pushes = tuple(Reading(low, str(n), high) for n, (low, high) in enumerate([(0.02, 0.15), (0.03, 0.17)]))
    made = one(Measured(id="m", by="Ama", what="end float", readings=pushes, tool="dial gauge 1"))
    assert made.value == pytest.approx(0.135)
    assert made.says == "within"


def test_the_zero_check_is_taken_off_and_a_missing_one_told() -> None:
    zero = ZeroChecked(id="z", by="Ama", tool=MICROMETER.name, reads=25.003, on=25.0)
    made = one(zero, read(1, "seat of front bearing", 29.992, tool=MICROMETER))
    assert made.value == pytest.approx(29.989)
    assert any("off by +0.003 mm" in told for told in made.told)
    bare = one(read(1, "seat of front bearing", 29.992, tool=MICROMETER))
    assert bare.value == pytest.approx(29.992)
    assert any(told.startswith("No zero check") for told in bare.told)


def test_a_slipped_decimal_is_asked_and_decided_once_confirmed() -> None:
    slip = read(1, "seat of front bearing", 3.0005, tool=MICROMETER)
    made = one(slip)
    assert made.says == "not decided"
    assert any("decimal point" in question for question in made.questions)
    sure = ReadingConfirmed(id="c", by="Ben", reading="m1")
    assert one(slip, sure).says == "beyond"


def test_one_place_far_from_all_others_is_asked() -> None:
    values = (72.004, 72.006, 72.103, 72.005, 72.002, 72.005)
    made = one(read(1, "bore of front bearing", *values, tool=BORE_GAUGE, at=SIX))
    assert made.says == "not decided"
    assert made.questions == ("72.103 mm at middle 1 is far from the others, 72.005.",)


def test_a_limit_inside_the_standard_range_decides_nothing() -> None:
    made = one(read(1, "selector fork", 5.95, tool=CALIPER))
    assert made.says == "not decided"
    assert "5.9" in made.words
    assert "5.8 to 6" in made.words
    assert sheet(CLASH)[0].barred


@pytest.mark.parametrize(("end", "clash"), [(72.000, False), (71.999, True), (72.1, False)])
def test_where_a_limit_clashes_with_its_standard(end: float, clash: bool) -> None:
    assert bool(sheet(limit("Bore", 71.988, 72.000, end))[0].barred) is clash


def test_a_renewed_part_begins_anew() -> None:
    old, new = (
        read(n, "seat of front bearing", size, tool=MICROMETER) for n, size in ((1, 29.95), (2, 30.005))
    )
    renewed = Renewed(id="r", by="Ama", part="layshaft")
    assert one(old).says == "beyond"
    assert of(old, renewed).decided == ()
    made = one(old, renewed, new)
    assert (made.says, made.value) == ("within", pytest.approx(30.005))


def test_a_float_read_again_after_it_was_set_is_the_new_float() -> None:
    before, after = read(1, "end float", 0.41, 0.42), read(2, "end float", 0.15, 0.16)
    tight = Tightened(id="t", by="Ama", joint="j", places=("p1",), final=True)
    assert one(before, tight, after).value == pytest.approx(0.155)
    assert one(before, after).says == "not decided", "two readings of one thing that differ so are asked"
    # A journal is the same journal, whatever was tightened since.
    worn = read(3, "seat of front bearing", 29.995, tool=MICROMETER)
    again = read(4, "seat of front bearing", 29.997, tool=MICROMETER)
    assert one(worn, tight, again).value == pytest.approx(29.996)
    anew = read(5, "end float", 0.15, 0.15, anew=True)
    assert one(before, anew).value == pytest.approx(0.15)


def test_an_undone_reading_never_happened() -> None:
    assert of(read(1, "end float", 0.5), Undone(id="u", by="Ama", undoes="m1")).decided == ()


def test_words_that_fit_two_sizes_are_not_guessed_at() -> None:
    found = of(read(1, "layshaft", 0.1))
    assert found.decided == ()
    assert [problem.code for problem in found.problems] == ["LB-M05"]
    assert "End float, layshaft" in found.problems[0].what


def test_words_behind_the_last_comma_say_which_one() -> None:
    made = one(read(1, "Run-out of the layshaft, at the far end", 0.0, 0.03))
    assert (made.what, made.of, made.value) == (
        "Run-out of the layshaft",
        "at the far end",
        pytest.approx(0.03),
    )


def test_several_parts_alike_stand_apart() -> None:
    found = of(read(1, "friction plate 1", 3.2, tool=CALIPER), read(2, "friction plate 2", 2.6, tool=CALIPER))
    assert [(made.of, made.says) for made in found.decided] == [("1", "within"), ("2", "beyond")]


def test_a_guard_band_inside_the_limit_accepts_less() -> None:
    near = read(1, "seat of front bearing", 29.993, 29.993, tool=MICROMETER)
    # 29.993 is 0.003 inside; the certificate alone leaves it uncertain by 0.004.
    assert one(near, setting=Setting("guarded acceptance")).says == "too close for this tool"
    assert one(near, setting=Setting("guarded rejection")).says in ("within", "worn, within limit")


def test_a_shaft_larger_than_new_is_asked_before_a_new_one_is_bought() -> None:
    large = read(1, "seat of front bearing", 30.060, 30.060, tool=MICROMETER)
    made = one(large)
    assert made.says == "not decided"
    assert "larger than when new" in made.questions[0]
    assert one(large, ReadingConfirmed(id="c", by="Ben", reading="m1")).says == "beyond"
    # A float below its standard is too tight, and no riddle.
    assert one(read(2, "end float", 0.06, 0.06)).says == "beyond"
    assert one(read(3, "end float", 0.095, 0.095)).says == "too close for this tool"


@pytest.mark.parametrize(
    "what", ["Clearance, piston to cylinder", "Piston ring end gap", "Oil clearance, main"]
)
def test_a_clearance_that_is_too_tight_is_beyond(what: str) -> None:
    size = sheet(limit(what, 0.030, 0.060, 0.120))
    fine = replace(CALIPER, uncertainty=0.002, resolution=0.001)
    tight = judged(job(read(1, what, 0.018, 0.018, tool=fine)), size, (fine,))
    assert tight.decided[0].says == "beyond"
    assert tight.decided[0].side == "low"


def test_the_end_to_which_nothing_wears_needs_no_finer_tool() -> None:
    assert one(read(1, "seat of front bearing", 30.010, 30.010, tool=MICROMETER)).says == "within"
    assert one(read(1, "seat of front bearing", 30.013, 30.013, tool=MICROMETER)).says == "within"


def test_a_tool_nobody_listed_is_told_and_its_step_taken_from_the_figures() -> None:
    event = read(1, "end float", 0.15)
    made = judged(job(event), sheet(FLOAT), (), TODAY).decided[0]
    assert made.says == "not decided", "no unit is known"
    in_mm = read(1, "end float", 0.15, unit="mm")
    made = judged(job(in_mm), sheet(FLOAT), (), TODAY).decided[0]
    assert made.says == "within"
    assert any("not in the shop's list" in told for told in made.told)
    assert made.uncertainty == pytest.approx(0.01 / math.sqrt(12))


def test_nothing_measured_is_ever_absent() -> None:
    events = [
        read(n, what, 1.0, tool=CALIPER)
        for n, what in enumerate(["depth a", "height b", "friction plate", "end float"])
    ]
    found = of(*events)
    named = {made.what for made in (*found.decided, *found.sizes)}
    assert named == {"depth a", "height b", PLATE.what, FLOAT.what}


def test_what_a_step_and_a_table_say_alike_is_one_line() -> None:
    step = limit("gap between halves", 2.0, 3.0, None)
    table = limit("Gap between the coupling halves", 2.0, 3.0, 4.0)
    lines = sheet(step, table, limit("Gap between the halves of the mould", 1.0, 2.0, None))
    assert [line.what for line in lines] == [table.what, "Gap between the halves of the mould"]
    assert len(lines[0].citations) == 2
    made = judged(
        job(Measured(id="m", by="Ama", limit=step.id, readings=(Reading(2.5, "1"),), unit="mm")), lines, ()
    ).decided
    assert [one.limit for one in made] == [table.id]
    other = limit("Gap between the pump halves", 2.0, 3.0, None)
    assert len(sheet(step, table, other)) == 3, "of two nobody knows which is meant"


def test_order_of_the_sheet_and_its_sides() -> None:
    lines = sheet(BORE, SEAT)
    assert [line.number for line in lines] == [1, 2]
    assert (lines[0].service and lines[0].service.high, lines[1].service and lines[1].service.low) == (
        72.02,
        29.99,
    )
    assert lines[0].tools == ("bore gauge", "inside micrometer")
