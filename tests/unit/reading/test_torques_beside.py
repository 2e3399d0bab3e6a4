"""Torques that something beside them makes another one: no number is told, or it is told with a doubt."""

import pytest

from lastbolt.reading.torques import torques_in


@pytest.mark.parametrize(
    "words",
    [
        "Tighten screw 18 to 25 Nm.",
        "Tighten screws 3, 4 and 18 to 25 Nm.",
        "Tighten the cap screws 20 to 25 Nm.",
        "Tighten the screws at 17 to 25 Nm.",
        "Tighten nut no. 20 to 25 Nm.",
        "Tighten the screws of bearing 2 to 2.5 mkg.",
        "Tighten to 25 Nm plus a quarter turn.",
        "Tighten to 25 Nm and then a half turn.",
        "Tighten to 25 Nm plus one flat.",
        "Tighten to 25 Nm; 1/2 turn back.",
        "Tighten to 25 Nm, then slacken a quarter turn.",
        "Turn the nut back 25 Nm.",
        "Loosen with at most 25 Nm.",
        "Tighten to twenty-five Nm.",
        "Tighten to 2S Nm.",
        "Tighten to 2.5 kg.",
        "Tighten to 180 lbs.",
        "Tighten to 25 m.N.",
        "Tighten to 25 lb (ft).",
        "Tighten to 25 Newton.",
    ],
)
def test_no_number_is_told(words: str) -> None:
    found = torques_in(words)
    assert [one.value.torque_Nm for one in found] == [None]
    assert all(one.doubt for one in found)


@pytest.mark.parametrize(
    "words",
    [
        "Tighten to 25 Nm (not 35 Nm).",
        "Tighten to 25 Nm instead of 30 Nm.",
        "Tighten to 30 Nm (formerly 25 Nm).",
        "Tighten to 25 Nm dry, 20 Nm oiled.",
        "Tighten to 25 Nm, but only 15 Nm in alloy.",
        "Tighten to 35 N·m for the first, 45 N·m for the second use.",
        "Tighten to 25 kNm.",
    ],
)
def test_each_number_is_told_with_a_doubt(words: str) -> None:
    assert all(one.doubt for one in torques_in(words))


@pytest.mark.parametrize(
    ("words", "low", "high"),
    [
        ("Tighten the screws to 20 to 25 Nm.", 20, 25),
        ("Tightening torque 20 to 25 Nm.", 20, 25),
        ("Head nuts 20 to 25 Nm", 20, 25),
        ("Tighten to 25 bis 30 Nm.", 25, 30),
        ("Loosen the nut, then tighten to 25 Nm.", 25, 25),
        ("Tighten to 25 Nm. Turn the crank one turn.", 25, 25),
    ],
)
def test_others_are_read_as_before(words: str, low: float, high: float) -> None:
    assert [(one.value.torque_Nm, one.doubt) for one in torques_in(words)] == [((low, high), "")]


def test_by_so_much_at_a_time_is_no_lower_end() -> None:
    found = torques_in("Tighten in steps of 5 Nm to 25 Nm.")
    assert [one.value.torque_Nm for one in found] == [None, (25.0, 25.0)]
