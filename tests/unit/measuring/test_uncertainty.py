"""Uncertainties: laws, and Student's quantiles."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.measuring.uncertainty import Part, calibration, combine, half_width, repeats, resolution


@pytest.mark.parametrize(
    ("freedom", "level", "k"),
    [(1, 0.95, 12.706), (2, 0.95, 4.303), (3, 0.95, 3.182), (10, 0.95, 2.228), (16, 0.99, 2.921)],
)  # from memory: common tables of Student's t, agreeing with GUM table G.2
def test_k_is_students_t(freedom: int, level: float, k: float) -> None:
    assert combine([Part("one", 1.0, "A", freedom, "")], level=level).k == pytest.approx(k, abs=6e-4)


@given(st.lists(st.floats(1e-4, 1.0), min_size=1, max_size=6), st.floats(0.1, 100))
def test_scaling_all_scales_the_answer(steps: list[float], by: float) -> None:
    one = combine([resolution(step) for step in steps])
    more = combine([resolution(step * by) for step in steps])
    assert more.expanded == pytest.approx(by * one.expanded)
    assert one.standard >= max(part.value for part in one.parts)


def test_bounds_and_certificates() -> None:
    assert half_width(3.0, "triangular").value == pytest.approx(3.0 / 6**0.5)
    assert calibration(0.004).value == 0.002
    with pytest.raises(ValueError, match="fewer than two"):
        repeats([1.0])
