"""Laws of preload, torque, stripping and wrenches; the figures of the standards are checked elsewhere."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.threads.designation import Thread, all_threads, thread_of
from lastbolt.threads.fittings import bearing_diameter_mm
from lastbolt.tightening.adaptor import Wrench, fits, setting_Nm
from lastbolt.tightening.preload import (
    advance_mm,
    assembly_preload_N,
    preload_N,
    torque_by_nut_factor_Nm,
    torque_Nm,
    with_prevailing_Nm,
)
from lastbolt.tightening.scatter import METHODS, preload_range_N, scatter_of
from lastbolt.tightening.stripping import (
    areas_of_thread_mm2,
    ceiling_torque_Nm,
    engagement_needed_mm,
    metal,
    metals,
)
from lastbolt.tightening.units_agree import both_units, newton_metres

SCREWS = [one for one in all_threads() if one.system != "pipe" and bearing_diameter_mm(one)]
screws = st.sampled_from(SCREWS)
frictions = st.floats(0.03, 0.5)
torques = st.floats(0.01, 5000)


def arm(thread: Thread) -> float:
    found = bearing_diameter_mm(thread)
    assert found is not None
    return found


@given(screws, torques, frictions, frictions)
def test_torque_to_preload_to_torque_returns(one: Thread, torque: float, thread: float, head: float) -> None:
    load = preload_N(torque, one, thread, head, arm(one))
    assert torque_Nm(load, one, thread, head, arm(one)) == pytest.approx(torque)


@given(screws, torques, frictions, st.floats(1.01, 3))
def test_preload_falls_with_friction_and_rises_with_torque(
    one: Thread, torque: float, friction: float, more: float
) -> None:
    load = preload_N(torque, one, friction, friction, arm(one))
    assert preload_N(torque, one, min(1.0, friction * more), friction, arm(one)) < load
    assert preload_N(torque * more, one, friction, friction, arm(one)) == pytest.approx(load * more)


@given(screws, st.floats(100, 1200), st.floats(0.03, 0.4), st.floats(0.1, 1))
def test_assembly_preload_scales_with_strength_and_falls_with_friction(
    one: Thread, yielding: float, friction: float, part: float
) -> None:
    load = assembly_preload_N(one, yielding, friction, part)
    assert assembly_preload_N(one, 2 * yielding, friction, part) == pytest.approx(2 * load)
    assert assembly_preload_N(one, yielding, friction + 0.05, part) < load
    assert load < assembly_preload_N(one, yielding, 0.0, 1.0)


@given(screws, st.floats(100, 1200), st.floats(0.03, 0.3))
def test_assembly_torque_rises_with_friction_though_its_preload_falls(
    one: Thread, yielding: float, friction: float
) -> None:
    less, more = (
        torque_Nm(assembly_preload_N(one, yielding, mu), one, mu, mu, arm(one))
        for mu in (friction, friction * 1.1)
    )
    assert more > less


def test_one_size_larger_bears_more() -> None:
    loads = [
        assembly_preload_N(one, 640, 0.12)
        for one in SCREWS
        if one.system == "metric" and one.series == "coarse"
    ]
    assert loads == sorted(loads)


@given(screws, torques, st.floats(0.05, 0.2), st.floats(0.01, 0.3))
def test_range_of_preload_encloses_what_lies_between(
    one: Thread, torque: float, least: float, wide: float
) -> None:
    low, high = preload_range_N(torque, one, least, least + wide, arm(one))
    middle = preload_N(torque, one, least + wide / 2, least + wide / 2, arm(one))
    assert low < middle < high
    assert preload_range_N(torque, one, least + wide, least, arm(one)) == (low, high)


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_what_is_no_quantity_is_refused(bad: float) -> None:
    m8 = thread_of("M8")
    assert m8 is not None
    with pytest.raises(ValueError, match="torque"):
        preload_N(bad, m8, 0.1, 0.1, 10)
    with pytest.raises(ValueError, match="friction"):
        torque_Nm(100, m8, bad, 0.1, 10)
    with pytest.raises(ValueError, match="yield"):
        assembly_preload_N(m8, bad, 0.1)
    with pytest.raises(ValueError, match="prevailing"):
        with_prevailing_Nm(10, bad)
    with pytest.raises(ValueError, match="length"):
        setting_Nm(10, bad, 10)
    with pytest.raises(ValueError, match="angle"):
        advance_mm(m8, bad)


def test_small_sums() -> None:
    m8 = thread_of("M8")
    assert m8 is not None
    assert torque_by_nut_factor_Nm(10000, 0.2, 10) == pytest.approx(20)
    assert with_prevailing_Nm(20, 3) == 23
    assert advance_mm(m8, 360) == 1.25


def test_ways_of_tightening_are_known_by_name() -> None:
    for method in METHODS:
        assert 0 < scatter_of(method).low < scatter_of(method).high < 1
    with pytest.raises(ValueError, match="torque wrench"):
        scatter_of("by feel")


@given(st.sampled_from([s for s in SCREWS if s.major_mm >= 2]), st.floats(1, 100), st.floats(1.1, 4))
def test_stripping_scales_with_engagement(one: Thread, length: float, more: float) -> None:
    areas, longer = areas_of_thread_mm2(one, length), areas_of_thread_mm2(one, length * more)
    assert longer.internal_mm2 == pytest.approx(areas.internal_mm2 * more)
    assert areas.internal_mm2 > areas.external_mm2 > 0, "the larger diameter shears later"
    aluminium = metal("aluminium")
    assert aluminium is not None
    low = ceiling_torque_Nm(one, aluminium, length, 0.08, arm(one))
    assert ceiling_torque_Nm(one, aluminium, length * more, 0.08, arm(one)).torque_Nm > low.torque_Nm
    assert ceiling_torque_Nm(one, aluminium, length, 0.08, arm(one), safety=3).torque_Nm < low.torque_Nm


@given(st.sampled_from([s for s in SCREWS if s.major_mm >= 2]), st.floats(400, 1200))
def test_a_weaker_hole_needs_more_engagement(one: Thread, tensile: float) -> None:
    needed = [engagement_needed_mm(one, tensile, hole) for hole in (None, tensile / 2, tensile / 4)]
    assert needed[0] <= needed[1] < needed[2]


def test_metals_are_known_by_other_words_and_by_no_others() -> None:
    assert len({one.name for one in metals()}) == len(metals()) == 5
    found = [metal(word) for word in ("Aluminum", "cast-iron", "Mild steel")]
    assert [one.name for one in found if one] == ["cast aluminium", "grey iron", "steel"]
    assert metal("") is None
    assert metal("unobtainium") is None


@given(torques, st.floats(50, 2000), st.floats(0, 40), st.floats(0, 360))
def test_adaptor_setting_never_crosses_the_torque(
    torque: float, length: float, adaptor: float, angle: float
) -> None:
    setting = setting_Nm(torque, length, adaptor, angle)
    ahead = math.cos(math.radians(angle)) > 0
    assert setting <= torque * (1 + 1e-9) if ahead else setting >= torque * (1 - 1e-9)
    assert setting_Nm(torque, length, adaptor, 90) == pytest.approx(torque)
    assert setting_Nm(torque, length, adaptor, -angle) == pytest.approx(setting)


def test_an_adaptor_behind_the_hand_is_refused() -> None:
    with pytest.raises(ValueError, match="past the hand"):
        setting_Nm(50, 100, 120, 180)


def test_wrench_doubts() -> None:
    wrench = Wrench("blue", 5, 100, 0.5, "2026-11-30")
    assert fits(wrench, 50, "2026-11-30") == ()
    assert "out of calibration since 2026-11-30" in fits(wrench, 50, "2026-12-01")[0]
    assert "below what blue is good for: 20 to 100" in fits(wrench, 19, "2026-11-30")[0]
    assert "above the top" in fits(wrench, 101, "2026-11-30")[0]
    assert "not known" in fits(Wrench("red", 5, 100, 0.5, ""), 50, "2026-11-30")[0]
    assert "not known" in fits(wrench, 50, "today")[0]
    assert "too coarse" in fits(Wrench("old", 1, 30, 5, "2027-01-01"), 10, "2026-12-01")[0]


@given(st.floats(1, 900), st.sampled_from(["lbf·ft", "ft-lb", "kgf·m", "in-lb", "kgf·cm", "lbf ft", "cN·m"]))
def test_a_value_and_its_own_conversion_agree_and_a_slipped_decimal_does_not(value: float, unit: str) -> None:
    factor = newton_metres(unit)
    assert factor is not None
    printed = round(value, 1)
    other = round(printed / factor, 2)
    assert both_units(((printed, printed, "N·m"), (other, other, unit))).agree
    assert not both_units(((printed, printed, "N·m"), (other * 10 + 3, other * 10 + 3, unit))).agree


def test_units_that_are_none_are_not_compared() -> None:
    for unit in ("mN", "bar", "", "N", "lb", "ft"):
        assert newton_metres(unit) is None, unit
    odd = both_units(((10, 10, "mN"), (7, 7, "lbf·ft")))
    assert (odd.agree, odd.difference_fraction) == (False, None)
    assert not both_units(((12, 10, "N·m"), (7, 7, "lbf·ft"))).agree
    assert both_units(((20, 25, "N·m"), (15, 18, "lbf·ft"))).agree
    assert not both_units(((20, 25, "N·m"), (15, 25, "lbf·ft"))).agree
