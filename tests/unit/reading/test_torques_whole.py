"""A torque is told as a number only when all that is printed with it is understood; else it is a doubt.

Each text is as a manual may print it; what it means is reasoned from the words. Factors: NIST SP 811 (2008),
appendix B.8.
"""

import pytest

from lastbolt.reading.torques import torques_in


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Tighten to 25+5 Nm.", "25+5 Nm"),
        ("Tighten to 2 5 N·m.", "2 5 N·m"),
        ("Tighten to 5 x 10 Nm.", "5 x 10 Nm"),
        ("Tighten to 10-20-30 Nm.", "10-20-30 Nm"),
        ("Tighten to 20 Nm - 40 Nm - 60 Nm.", "20 Nm - 40 Nm - 60 Nm"),
        ("Tighten to 50 Nm - 10 Nm.", "50 Nm - 10 Nm"),
        ("Tighten to 25 Nm + 10 Nm.", "25 Nm + 10 Nm"),
        ("Tighten to −25 Nm.", "−25 Nm"),
        ("Tighten to 50% of 80 Nm.", "50% of 80 Nm"),
        ("Tighten to half of 50 Nm.", "half of 50 Nm"),
        ("Tighten by another 20 Nm.", "another 20 Nm"),
        ("Tighten to 25 Nm less than the old value.", "25 Nm less than the old value"),
        ("Tighten to 25 Nm above the running torque.", "25 Nm above the running torque"),
        ("Tighten to 50 Nm minus 10 Nm.", "50 Nm minus 10 Nm"),
        ("Tighten to 100 Nm -10%.", "100 Nm -10%"),
        ("Tighten the nut to 100 Nm and turn back 30°.", "100 Nm and turn back 30°"),
        ("Tighten to 100 Nm. Turn back 30°.", "100 Nm. Turn back 30°"),
        ("Tighten to 40 Nm + 90-100°.", "40 Nm + 90-100°"),
        ("Tighten screws 1 and 2 to 10 and 25 Nm respectively.", "10 and 25 Nm"),
        ("Tighten to 10³ Nm.", "10³ Nm"),
        ("Tighten to 25²⁾-30 Nm.", "25²⁾-30 Nm"),
        ("Tighten to 25⁺⁵ Nm.", "25⁺⁵ Nm"),
        ("Tighten to 1O Nm.", "1O Nm"),
        ("Tighten to l0 Nm.", "l0 Nm"),
        ("Tighten to ten newton metres.", "ten newton metres"),
        ("Torque: 10 (7.4).", "Torque: 10"),
        ("a moment of 3 kg·m² of inertia", "3 kg·m²"),
    ],
)
def test_what_is_not_understood_whole_is_no_number_and_shown_whole(text, words):
    found = torques_in(text)
    assert [one.value.torque_Nm for one in found] == [None]
    assert found[0].value.words == words
    assert found[0].value.angle_deg is None
    assert found[0].doubt


@pytest.mark.parametrize(
    ("text", "mark"),
    [
        ("25² N·m", "²"),
        ("25 ²⁾ N·m", "²⁾"),
        ("25*) Nm", "*)"),
        ("25 N·m³", "³"),
        ("25 N·m ¹⁾", "¹⁾"),
    ],
)
def test_the_mark_of_a_note_is_no_figure_of_the_torque(text, mark):
    (torque,) = torques_in(text)
    assert torque.value.torque_Nm == (25, 25)
    assert f'the mark "{mark}"' in torque.doubt


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [("25 ⁺⁵ ₀ Nm", 25, 30), ("25⁺²₋₁ Nm", 24, 27), ("25 ⁺⁰.⁵/₋₀.₅ Nm", 24.5, 25.5)],
)
def test_a_tolerance_of_raised_and_lowered_figures(text, low, high):
    (torque,) = torques_in(text)
    assert (torque.value.torque_Nm, torque.doubt) == ((low, high), "")


@pytest.mark.parametrize(
    ("text", "newton_metres"),
    [
        ("1⁄2 Nm", 0.5),
        ("7 1⁄2 lb-ft", 7.5 * 1.355818),
        ("7⅜ lb-ft", 7.375 * 1.355818),
        ("2.5 m.daN", 25),
        ("2500 N·mm", 2.5),
        ("10-lb ft", 13.55818),
        ("Stage 1 20 Nm", 20),
        ("Tighten to 25 Nm above the bracket.", 25),
    ],
)
def test_forms_that_are_understood(text, newton_metres):
    (torque,) = torques_in(text)
    assert torque.value.torque_Nm == pytest.approx((newton_metres, newton_metres), rel=2e-5)
    assert torque.doubt == ""


def test_inch_marks_with_pounds_are_told_with_doubt():
    (torque,) = torques_in('180 "lb')
    assert torque.value.torque_Nm == pytest.approx((180 * 0.1129848,) * 2, rel=2e-5)
    assert '"lb' in torque.doubt


@pytest.mark.parametrize("text", ["a pressure of 5 kg/cm²", "a load of 3 N/mm²"])
def test_pressures_are_no_torques(text):
    assert torques_in(text) == []


def test_every_further_turn_is_a_stage():
    found = torques_in("40 Nm, then a further 60° and 60°")
    assert [(t.value.torque_Nm, t.value.angle_deg, t.value.stage) for t in found] == [
        ((40, 40), 60, "1"),
        (None, 60, "2"),
    ]


def test_a_stage_can_be_a_turn_alone():
    found = torques_in("Stage 1: 20 Nm; stage 2: 45 Nm; stage 3: 90°.")
    assert [(t.value.torque_Nm, t.value.angle_deg, t.value.stage) for t in found] == [
        ((20, 20), None, "1"),
        ((45, 45), None, "2"),
        (None, 90, "3"),
    ]


def test_a_torque_that_is_let_go_again_is_a_stage_and_told():
    found = torques_in("Tighten to 20 Nm, slacken, then 15 Nm.")
    assert [(t.value.torque_Nm, t.value.stage) for t in found] == [((20, 20), "1"), ((15, 15), "2")]
    assert all("slacken" in one.doubt for one in found)


def test_another_part_undone_in_the_next_sentence_leaves_the_torque():
    (torque,) = torques_in("Tighten to 25 Nm. Loosen the nut by 30°.")
    assert (torque.value.torque_Nm, torque.value.angle_deg, torque.doubt) == ((25, 25), None, "")


def test_torques_that_go_each_to_its_own_are_told():
    found = torques_in("bolts M6 and M8 to 10 Nm and 25 Nm respectively")
    assert [one.value.torque_Nm for one in found] == [(10, 10), (25, 25)]
    assert all("respectively" in one.doubt for one in found)
