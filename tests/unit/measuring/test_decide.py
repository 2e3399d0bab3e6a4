"""Decisions: their laws, and limits that contradict themselves."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.measuring.decide import Limits, Rule, decide

SIZE = st.floats(-1.0, 2.0)


@given(SIZE, st.floats(0.0, 0.3))
def test_guarding_never_accepts_more_nor_rejects_more(value: float, u: float) -> None:
    said: dict[Rule, str] = {
        rule: decide(value, Limits(0.0, 1.0), u, rule).says
        for rule in ("printed limit", "guarded acceptance", "guarded rejection")
    }  # type: ignore[misc]
    if said["guarded acceptance"] == "within":
        assert said["guarded rejection"] == "within"
    if said["guarded rejection"] == "beyond":
        assert said["guarded acceptance"] == "beyond"
    assert (said["printed limit"] == "beyond") == (said["guarded rejection"] == "beyond")


@pytest.mark.parametrize(
    ("value", "says"),
    [(0.10, "within"), (0.18, "worn, within limit"), (0.249, "too close for this tool"),
     (0.26, "beyond"), (0.01, "beyond")],
)  # fmt: skip
def test_standard_and_service(value: float, says: str) -> None:
    assert decide(value, Limits(0.05, 0.15), 0.002, service=Limits(None, 0.25)).says == says


def test_what_cannot_be_decided() -> None:
    assert decide(0.12, Limits(0.05, 0.15), 0.001, service=Limits(None, 0.10)).says == "not decided"
    assert decide(float("nan"), Limits(0.0, 1.0), 0.1).says == "not decided"
    assert decide(1.0, Limits(None, None), 0.1).says == "not decided"
    assert decide(0.5, Limits(0.0, 1.0), None, "guarded acceptance").says == "not decided"
