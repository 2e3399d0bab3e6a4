"""Every way in which a small book points at its own sections is found, doubted or asked about: none is lost.

The book is made here, page by page, without a file. Its chapter 5 holds the sentences under test.
"""

import pytest

from lastbolt.app.read_sources import references_of
from paged import book, numbered, pointing, said

# What no rule understands is still seen.


@pytest.mark.parametrize(
    "sentence",
    [
        "1. Hold the shaft; 4.2 comes in here as well.",
        "1. Turn the shaft (katso 4.2).",
        "1. Turn the shaft (4.2 is wanted first).",
        "1. Turn the shaft; mind 4.2 once more.",
        "1. Turn the shaft (see 4,2).",
    ],
)
def test_a_number_that_no_rule_took_is_doubtful(sentence):
    assert said(pointing(sentence)) == [("see", "doubtful", ["4.2"])]


@pytest.mark.parametrize(
    "section",
    [
        ("WARNING: The blades are sharp, think of 4.2.", "1. Turn the shaft."),
        ("NOTE: On the bench all of 4.2 counts too.", "1. Turn the shaft."),
        ("It is no use to begin while 4.2 waits.", "1. Turn the shaft."),
        ("1. Turn the shaft.", "Fig. 12 Shaft as it stands once 4.2 is behind you"),
    ],
)
def test_warnings_introductions_and_captions_are_read_for_numbers_too(section):
    assert ("see", "doubtful", ["4.2"]) in said(pointing(*section))


def test_a_doubt_is_told_with_its_page():
    machine = book("1. Hold the shaft; 4.2 comes in here as well.")
    (problem,) = [p for p in machine.problems if p.code == "LB-R03"]
    assert "4.2 Removing the blower" in problem.what
    assert "page 1" in problem.where


@pytest.mark.parametrize(
    "sentence",
    [
        "1. Put in a shim of 4.2 mm and 2.1 l of oil.",
        "1. The gap is 4.1 to 4.3 mm.",
        "1. The gap is 4.1/4.2 mm on variant B.",
        "1. Use drill size 4.2 and a tap of pitch 2.1 for this.",
        "1. Screw in the M8 x 2.1 stud.",
        "1. Turn the shaft as it stands in Fig. 4.2.",
        "1. Turn the shaft as it stands in Figs. 4.1, 4.2 and 4.3.",
        "1. The state of this page is of 4.2.2021.",
        "1. Use special tool 4.2 to turn the shaft.",
        "1. Turn the shaft (1, 4-2).",
        "1. The battery gives 4.2 V, the motor 2.1 kW.",
        "1. Wait 4.2 minutes at 4.3 °C.",
        "1. Turn the shaft by 4.2 turns.",
        "1. Tighten to 4.2 Nm.",
        "1. The values stand in 7.1.",
        "1. The lever of 5.1 stays on the bench.",
        "1. The ratio is 4.2:1.",
    ],
)
def test_quantities_and_other_numbers_are_no_references(sentence):
    assert [r for r in pointing(sentence) if r.status == "doubtful"] == []


@pytest.mark.parametrize(
    "sentence",
    [
        "1. Turn the shaft, see above.",
        "1. Turn the shaft (see overleaf).",
        "1. Turn the shaft as described on the previous page, see opposite.",
        "1. Turn the shaft (q.v.).",
    ],
)
def test_a_pointing_word_without_a_place_is_doubtful(sentence):
    assert said(pointing(sentence)) == [("see", "doubtful", [])]


@pytest.mark.parametrize(
    "sentence",
    [
        "1. Turn the shaft (see the figure above).",
        "1. Turn the shaft, see illustration.",
        "1. Tighten the nut (torque see below).",
        "1. See that the shaft turns.",
    ],
)
def test_a_figure_or_a_value_close_by_is_only_looked_up(sentence):
    assert pointing(sentence) == []


# Clauses of necessity and of order ask for the work.


@pytest.mark.parametrize(
    "section",
    [
        ("1. Procedure 4.2 must have been carried out.",),
        ("1. Section 4.2 has to be finished.",),
        ("1. Turn the shaft with 4.2 done.",),
        ("1. After performing 4.2 turn the shaft.",),
        ("1. Once 4.2 is completed, turn the shaft.",),
        ("1. Never turn the shaft before carrying out 4.2.",),
        ("1. Work through paragraph 4.2(b).",),
        ("1. Consult sub-section 4.2.",),
        ("1. Turning the shaft needs 4.2.",),
        ("1. Do not turn the shaft until section 4.2 is done.",),
        ("1. Before turning the shaft see 4.2.",),
        ("WARNING: Do not turn the shaft before section 4.2 has been completed.", "1. Turn the shaft."),
        ("CAUTION: The shaft turns only once 4.2 is done.", "1. Turn the shaft."),
        ("Section 4.2 must be completed.", "1. Turn the shaft."),
    ],
)
def test_a_clause_of_necessity_asks_for_the_work_before(section):
    assert said(pointing(*section)) == [("before", "resolved", ["4.2"])]


@pytest.mark.parametrize(
    ("sentence", "role"),
    [
        ("1. Turn the shaft (see 4.2).", "see"),
        ("1. Before the winter turn the shaft (see 4.2).", "see"),
        ("1. Turn the shaft before section 4.2 is begun.", "after"),
        ("1. Turn the shaft before you carry out 4.2.", "after"),
        ("1. Section 4.2 must be done afterwards.", "after"),
        ("1. Lift off the lever and go on with 4.2.", "after"),
    ],
)
def test_other_clauses_only_point_or_name_what_follows(sentence, role):
    assert [(one, to) for one, _, to in said(pointing(sentence))] == [(role, ["4.2"])]


def test_values_are_looked_up_whatever_the_clause():
    assert said(pointing("1. The torques of 7.1 must be kept (see 7.1).")) == [("see", "resolved", ["7.1"])]


# Ranges and lists.


@pytest.mark.parametrize(
    ("sentence", "numbers"),
    [
        ("1. Carry out 4.1 - 4.3.", ["4.1", "4.2", "4.3"]),
        ("1. Carry out 4.1-4.3.", ["4.1", "4.2", "4.3"]),
        ("1. Carry out operations 4.1 to 4.3.", ["4.1", "4.2", "4.3"]),
        ("1. Carry out paragraphs 4.1 through 4.3.", ["4.1", "4.2", "4.3"]),
        ("1. Lift off the lever (4.1 to 4.3).", ["4.1", "4.2", "4.3"]),
        ("1. Carry out 4.1 to 4.2 and 4.4.", ["4.1", "4.2", "4.4"]),
        ("1. Carry out 2.1 to 4.2.", ["2.1", "4.1", "4.2"]),
        ("1. Carry out 4.2/4.3.", ["4.2", "4.3"]),
        ("1. Carry out chapters 2 and 4.", ["2.1", "4"]),
        ("1. Carry out chapters 2 to 4.", ["2.1", "4"]),
        ("1. Carry out chapters 2-4.", ["2.1", "4"]),
        ("1. Carry out chapter 4, section 3.", ["4.3"]),
        ("1. Carry out section 3 of chapter 4.", ["4.3"]),
    ],
)
def test_every_member_of_a_list_or_range_is_asked_for(sentence, numbers):
    assert said(pointing(sentence)) == [("before", "resolved", numbers)]


def test_steps_of_the_own_section_stay_there():
    (reference,) = pointing("1. Turn the shaft.", "2. Turn the lever.", "3. Repeat steps 1 to 2.")
    assert (reference.from_step, reference.to_step) == ("1", "2")
    assert said([reference]) == [("see", "resolved", ["5.1"])]


# One section in many forms.


@pytest.mark.parametrize(
    "sentence",
    [
        "1. Lift off the lever as in 4.2.",
        "1. Lift off the lever, cf. 4.2.",
        "1. Lift off the lever, ref. 4.2.",
        "1. Lift off the lever, s. 4.2.",
        "1. Lift off the lever -> 4.2.",
        "1. Lift off the lever (→ 4.2).",
        "1. Lift off the lever [4.2].",
        "1. Lift off the lever (siehe 4.2).",
        "1. Lift off the lever (voir 4.2).",
        "1. Follow item 4.2.",
        "1. Repeat 4.2.",
        "1. Perform blower removal.",
    ],
)
def test_a_section_is_asked_for_in_many_forms(sentence):
    assert said(pointing(sentence)) == [("before", "resolved", ["4.2"])]


@pytest.mark.parametrize(
    "section",
    [
        ("1. Refer 4.2.",),
        ("1. How it is done is told under BLOWER REMOVAL.",),
        ("1. Turn the shaft.*", "* See section 4.2."),
    ],
)
def test_a_section_is_only_named_in_many_forms(section):
    assert said(pointing(*section)) == [("see", "resolved", ["4.2"])]


def test_the_number_of_a_chapter_in_words():
    ((role, status, numbers),) = said(pointing("1. Lift off the lever (SECTION FOUR)."))
    assert (role, status, set(numbers)) == ("before", "ambiguous", {"4.1", "4.2", "4.3", "4.4"})


def test_a_list_at_the_head_of_a_section():
    found = pointing("Preliminary work: 4.1, 4.3.", "1. Lift off the lever.")
    assert said(found) == [("before", "resolved", ["4.1", "4.3"])]


@pytest.mark.parametrize(
    "sentence",
    ["1. Perform a second turn.", "1. Do the two last turns with care.", "1. Turn the shaft, as in life."],
)
def test_words_that_are_no_title_are_none(sentence):
    assert pointing(sentence) == []


# The introduction of a chapter is for every section of it.

SECOND = ("## 5.2 Removing the yoke", "1. Lift off the yoke.")


@pytest.mark.parametrize(
    "opening",
    [
        "Before any work in this chapter drain the oil (section 2.1).",
        "Drain the oil (2.1) before all work in this chapter. The drive is heavy.",
        "WARNING: Before every task the oil must be drained (2.1).",
    ],
)
def test_what_a_chapter_asks_before_all_its_work_is_asked_of_each_section(opening):
    machine = book("1. Lift off the lever.", opening=(opening,), more=SECOND)
    for number in ("5.1", "5.2"):
        assert said(list(numbered(machine, number).before)) == [("before", "resolved", ["2.1"])]


def test_a_chapter_s_demand_in_words_leads_to_the_procedure_it_names():
    machine = book("1. Lift off the lever.", opening=("Before any work in this chapter drain the oil.",))
    assert said(list(numbered(machine, "5.1").before)) == [("before", "doubtful", ["2.1"])]


def test_the_section_that_a_chapter_asks_for_does_not_ask_for_itself():
    opening = "Before every task remove the lever (5.1)."
    machine = book("1. Lift off the lever.", opening=(opening,), more=SECOND)
    assert numbered(machine, "5.1").before == ()
    assert said(list(numbered(machine, "5.2").before)) == [("before", "resolved", ["5.1"])]


def test_an_introduction_that_only_points_is_seen_by_each_section_an_overview_is_not():
    opening = "The oil is dealt with in 2.1. The lever stands in 5.1, the yoke in 5.2; 4.2 comes in too."
    machine = book("1. Lift off the lever.", opening=(opening,), more=SECOND)
    for number in ("5.1", "5.2"):
        found = said(list(numbered(machine, number).before))
        assert found == [("see", "resolved", ["2.1"]), ("see", "doubtful", ["4.2"])]


def test_what_an_introduction_asks_is_asked_of_each_section_for_itself():
    opening = "Before all work in this chapter mind what 4.2 says."
    machine = book("1. Lift off the lever.", opening=(opening,), more=SECOND)
    first, second = (numbered(machine, number).before for number in ("5.1", "5.2"))
    assert [one.words for one in first] == [one.words for one in second] == [opening]
    assert {one.id for one in first}.isdisjoint(one.id for one in second)


def test_an_introduction_in_numbered_steps_asks_it_of_the_sections_below():
    steps = ("1. Before any work in this chapter drain the oil (2.1).", "2. Clean the outside.")
    machine = book("1. Lift off the lever.", opening=steps, more=SECOND)
    for number in ("5.1", "5.2"):
        assert said(list(numbered(machine, number).before)) == [("before", "resolved", ["2.1"])]


def test_a_section_that_orders_itself_first_is_asked_by_the_tasks_it_names():
    last = ("# 6 LAST", "## 6.1 Shutting off", "Carry out this section before every task in chapters 4 to 5.")
    machine = book("1. Lift off the lever.", more=(*last, "1. Disconnect the battery."))
    for number in ("4.1", "4.2", "4.3", "5.1"):
        assert said(list(numbered(machine, number).before)) == [("before", "resolved", ["6.1"])]
    assert numbered(machine, "2.1").before == ()
    assert not any(one.role == "before" for one in references_of(numbered(machine, "6.1")))
