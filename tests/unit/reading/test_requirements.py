"""What a section asks for in words before its first step is a condition; no word of a section is lost."""

import pytest

from lastbolt.app.make_plan import make_plan
from lastbolt.reading.inline_signals import part_signals
from lastbolt.reading.lexicon import lexicon
from paged import book, numbered

STEPS = ("1. Undo the nut.", "2. Lift off the lever.")


def asked(*opening: str) -> list[tuple[str, list[str]]]:
    """Status and where it leads of each condition of section 5.1 with this opening."""
    before = numbered(book(*opening, *STEPS), "5.1").before
    return [(one.status, [to.rpartition("/")[2] for to in one.to]) for one in before]


@pytest.mark.parametrize(
    "words",
    [
        "The blower must be off.",
        "The blower must already be removed.",
        "The blower is removed.",
        "The blower has been removed.",
        "Blower removed.",
        "It is necessary to remove the blower.",
        "Before you begin, the blower has to be removed.",
        "The lever is heavy. Remove the blower first.",
        "Condition: blower removed",
        "Situation: blower removed",
        "Requires: 4.2",
        "Remove beforehand: blower",
        "Preliminary work: blower off",
    ],
)
def test_a_state_in_words_leads_to_the_section_that_brings_it_about(words):
    assert asked(words) == [("resolved", ["4.2"])]


@pytest.mark.parametrize(
    "words",
    [
        "With the blower removed:",
        "After removing the blower, proceed as follows:",
        "Work may only begin with the blower off.",
        "The blower and the lid must be removed.",
    ],
)
def test_what_says_more_than_the_section_is_open(words):
    machine = book(words, *STEPS)
    assert asked(words) == [("doubtful", ["4.2"])]
    assert not make_plan(machine, "5.1").complete


@pytest.mark.parametrize(
    "words", ["The drive must stand upside down.", "Needed: lid off", "Time: 2 h; lid off"]
)
def test_a_state_that_no_section_brings_about_is_a_condition_in_words(words):
    assert [status for status, _ in asked(words)] == ["in words"]


@pytest.mark.parametrize(
    "words",
    [
        "Gloves must be worn.",
        "All gaskets must be renewed.",
        "The lever must not be removed by force.",
        "The halves are bolted together.",
        "Two bolts M8 x 70 enter from the far side.",
    ],
)
def test_other_sentences_ask_for_nothing_and_are_kept(words):
    section = numbered(book(words, *STEPS), "5.1")
    assert section.before == ()
    assert section.text == words


@pytest.mark.parametrize("label", ["Tools", "Needed", "Required"])
def test_a_condition_among_things_is_no_thing(label):
    section = numbered(book(f"{label}: M8 spanner; blower off", *STEPS), "5.1")
    assert section.tools == ("M8 spanner",)
    assert [one.words for one in section.before] == ["blower off"]


def test_an_entry_that_turns_out_to_point_nowhere_is_kept():
    (one,) = numbered(book("Beforehand: prepare the lid as in earlier days", *STEPS), "5.1").before
    assert (one.status, one.words) == ("in words", "prepare the lid as in earlier days")


def test_another_book_behind_a_weak_word_is_another_book():
    (one,) = numbered(book("Beforehand: remove the lid as in the maker's manual.", *STEPS), "5.1").before
    assert one.status == "other book"


def test_a_warning_in_a_set_up_paragraph_is_a_warning():
    section = numbered(
        book("Beforehand: blower off, see 4.2. WARNING: Hot oil burns. Wear gloves.", *STEPS), "5.1"
    )
    assert [(one.signal, one.words) for one in section.cautions] == [
        ("warning", "Hot oil burns. Wear gloves.")
    ]
    assert "WARNING" not in " ".join(one.words for one in section.before)


def test_a_warning_in_the_opening_goes_with_the_first_step():
    section = numbered(book("The oil is hot. DANGER! It burns.", *STEPS), "5.1")
    assert [(one.signal, one.words) for one in section.cautions] == [("danger", "It burns.")]


@pytest.mark.parametrize("text", ["Set the switch to WARNING.", "Warning lamps are red.", "No DANGER here"])
def test_a_signal_word_in_a_sentence_is_no_warning(text):
    assert part_signals(text, lexicon()) == (text, [])


@pytest.mark.parametrize(
    "block",
    ["Persons: 2 fitters", "Time: 3 hours", "References: the sheet on the wall", "Fig. 9 shows the lid."],
)
def test_no_word_of_a_section_is_lost(block):
    assert block.rstrip(".") in numbered(book(block, *STEPS), "5.1").text


@pytest.mark.parametrize(
    "words",
    [
        ("[1] Remove the blower from the frame.",),
        ("1¤ Drain the oil. 2¤ Remove the screws. 3¤ Lift the frame off.",),
        ("A1.x.1 Remove the blower from the frame.",),
    ],
)
def test_instructions_that_became_no_step_are_told_and_keep_plans_open(words):
    machine = book(*STEPS, more=("## 5.2 Removing the frame", *words))
    assert [one for one in machine.procedures if one.number == "5.2"] == []
    (problem,) = [one for one in machine.problems if one.code == "LB-R18"]
    assert "5.2" in problem.what
    assert "unexplained" in {page.state for page in machine.pages}
    assert not make_plan(machine, "5.1").complete


@pytest.mark.parametrize(
    "words", ["The frame is heavy. It carries the blower.", "Keep the place clean. Always renew gaskets."]
)
def test_other_words_are_no_instructions(words):
    machine = book(*STEPS, more=("## 5.2 The frame", words))
    assert "LB-R18" not in {one.code for one in machine.problems}


@pytest.mark.parametrize(
    "opening",
    [
        ("NOTE: The blower must be off.",),
        ("NOTE: Blower removed.",),
        ("The following must be off:", "- Blower"),
        ("Before:", "- Blower removed"),
    ],
)
def test_notes_and_lists_before_the_first_step_ask_too(opening):
    assert ("resolved", ["4.2"]) in asked(*opening)


@pytest.mark.parametrize("first", ["1. The blower must be off.", "1. Blower removed.", "1. Blower off?"])
def test_a_first_step_that_tells_a_state_leads_to_the_section_that_brings_it_about(first):
    machine = book(first, "2. Lift off the lever.")
    step, _ = numbered(machine, "5.1").steps
    assert [(one.role, one.to) for one in step.references] == [("before", ("book/procedure/4.2",))]


def test_sentences_as_steps_are_preceded_by_what_they_ask():
    section = numbered(book("The blower must be off. Undo the nut. Lift off the lever."), "5.1")
    assert [one.status for one in section.before] == ["resolved"]
    assert [step.words for step in section.steps] == ["Undo the nut.", "Lift off the lever."]


def test_steps_told_as_states_ask_for_nothing_that_no_section_does():
    machine = book("1. The nut is removed.", "2. The lever is removed.")
    assert [step.references for step in numbered(machine, "5.1").steps] == [(), ()]
    assert "LB-R06" not in {problem.code for problem in machine.problems}


def test_one_entry_that_names_a_section_twice_is_no_repetition():
    machine = book("Beforehand: blower removed, see 4.2.", *STEPS)
    assert "LB-R15" not in {problem.code for problem in machine.problems}
