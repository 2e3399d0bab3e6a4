"""Laws of geometry, classes, identification and sizes; the figures of the standards are checked elsewhere."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.threads.classes import (
    class_name,
    classes_by_marks,
    proof_load_N,
    property_class,
    tensile_load_min_N,
)
from lastbolt.threads.designation import Thread, all_threads, thread_of
from lastbolt.threads.fittings import (
    bearing_diameter_mm,
    clearance_hole_mm,
    repair_insert,
    tap_drill_mm,
    wrench_mm,
)
from lastbolt.threads.geometry import geometry, limits_of_size, stress_area_mm2
from lastbolt.threads.identify import identify

ALL = list(all_threads())
SCREWS = [thread for thread in ALL if thread.system != "pipe"]


def thread(words: str) -> Thread:
    found = thread_of(words)
    assert found is not None
    return found


@pytest.mark.parametrize("one", ALL, ids=lambda t: t.designation)
def test_diameters_stand_in_order(one: Thread) -> None:
    basic = geometry(one)
    assert one.major_mm > basic.pitch_diameter_mm > basic.minor_internal_mm >= basic.minor_external_mm > 0
    drill = tap_drill_mm(one)
    if drill is not None and "NPT" not in one.designation:
        assert basic.minor_internal_mm - 0.35 * one.pitch_mm < drill < one.major_mm
    insert = repair_insert(one)
    if insert is not None:
        assert one.major_mm < insert.drill_mm < insert.tap_major_mm
    holes = [clearance_hole_mm(one, fit) for fit in ("close", "medium", "loose")]
    if holes[0] is not None:
        assert one.major_mm < holes[0] < holes[1] < holes[2]  # type: ignore[operator]
        flats, face = wrench_mm(one), bearing_diameter_mm(one)
        assert flats is None or face is None or holes[1] < face < flats  # type: ignore[operator]


@pytest.mark.parametrize("one", SCREWS, ids=lambda t: t.designation)
def test_limits_enclose_a_thread_that_can_be_screwed_in(one: Thread) -> None:
    names = ("6g", "6H") if one.system == "metric" else ("2A", "2B")
    outside, inside = (limits_of_size(one, name) for name in names)
    if outside is None or inside is None:
        return
    assert outside.major_min_mm < outside.major_max_mm <= inside.major_min_mm  # type: ignore[operator]
    assert outside.pitch_min_mm < outside.pitch_max_mm <= inside.pitch_min_mm < inside.pitch_max_mm
    assert outside.minor_max_mm <= inside.minor_min_mm < inside.minor_max_mm  # type: ignore[operator]


@pytest.mark.parametrize("name", ["", "6", "6x", "g6", "2C", "6g6H", "9Z"])
def test_unknown_tolerances_have_no_limits(name: str) -> None:
    assert limits_of_size(thread("M8"), name) is None
    assert limits_of_size(thread("1/4-20"), name) is None


def test_pipe_threads_have_no_stress_area_and_no_loads() -> None:
    with pytest.raises(ValueError, match="pipe"):
        stress_area_mm2(thread("G 1/4"))
    assert proof_load_N(thread("G 1/4"), "8.8") is None


@pytest.mark.parametrize("name", ["8.8", "10.9", "A2-70", "4.6"])
def test_proof_stays_below_breaking(name: str) -> None:
    proof, tensile = proof_load_N(thread("M10"), name), tensile_load_min_N(thread("M10"), name)
    assert proof is not None
    assert tensile is not None
    assert 0 < proof < tensile


def test_classes_hold_only_where_they_are_stated() -> None:
    assert property_class("9.8", 20) is None, "9.8 ends at 16 mm"
    assert property_class("8.8", 45) is None, "ISO 898-1 ends at 39 mm"
    assert property_class("7.7", 8) is None
    assert proof_load_N(thread("M8"), "grade 5") is None, "a grade of inch screws on a metric thread"
    assert proof_load_N(thread("1/4-20"), "8.8") is None
    assert class_name("SAE Grade 5") == "grade 5"


def test_marks() -> None:
    assert classes_by_marks("6 lines") == ("grade 8",)
    assert classes_by_marks("Three radial lines") == ("grade 5",)
    assert classes_by_marks("109") == ("10.9",)
    assert classes_by_marks("") == classes_by_marks("08.8") == classes_by_marks("4 lines") == ()


@given(st.sampled_from(SCREWS))
def test_a_new_screw_is_identified(one: Thread) -> None:
    limits = limits_of_size(one, "6g" if one.system == "metric" else "2A")
    middle = one.major_mm if limits is None else (limits.major_min_mm + one.major_mm) / 2
    found = [match.thread.designation for match in identify(middle, one.pitch_mm)]
    assert one.designation in found[:2]


def test_a_worn_metric_screw_and_an_inch_screw_are_both_named() -> None:
    found = identify(4.83, 0.8)
    assert [match.thread.designation for match in found] == ["M5", "#10-32 UNF"]
    assert "close pair with #10-32 UNF" in found[0].words
    assert identify(7.9)[0].pitch_difference_mm is None
    assert len(identify(7.9)) > 1


@pytest.mark.parametrize(
    "bad", [(0.0, 1.0), (-8.0, 1.0), (8.0, 0.0), (float("nan"), 1.0), (float("inf"), 1.0)]
)
def test_impossible_measurements_name_nothing(bad: tuple[float, float]) -> None:
    assert identify(*bad) == ()


def test_inside_threads_are_found_by_their_bore() -> None:
    assert identify(8.5, 1.5, of="inside")[0].thread.designation == "M10"
    assert identify(6.8, threads_per_inch=16, of="inside") == ()
