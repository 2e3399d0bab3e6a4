"""What is typed and not understood, or says that something still holds, never ends in "clear to part"."""

import pytest

from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind
from lastbolt.words.answer import Answer

CLEAR = """\
7 x M6x45
end of list
by Ann
1-7 out
went round
by Ben
1-7 out
went round
tray 7 x M6x45
holder b: off
"""


def told(lines: str) -> Answer:
    gathered = read_typed(lines, typed_kind)
    return tally_joint(gathered.evidence, gathered.beside)


def test_the_lines_below_are_clear_without_the_line_under_test() -> None:
    assert told(CLEAR).clear_to_part
    assert told(CLEAR).witnesses == ("Ann", "Ben", "you")


@pytest.mark.parametrize(
    "line",
    [
        "in 3", "7 out?", "8", "8 what", "5-4 in", "put 3 back in", "4 in but loose", "A in",
        "tray 2 x", "1, 2", "by Ann and Ben", "by me", "by Ann, Ben", "1 out and in", "strike line 40",
        "0000009 x M6x45", "0001 x M6x45", "tray 0000007 x M6x45", "0 x M6x45",
        "3 x M6x45, 2 x M8x70", "3 x M6x45 and 1 x M8x70", "3 x M6x45 (+ 2 behind the cover)",
        "3 x M6x45 each side", "2 x M6x45 not this joint", "tray 3 or 4 x M6x45",
        "tray 7 x M6x45 not complete", "tray 6 x M6x45, 1 head",
        "counted 3 x M6x45 in the case, not in the tray",
    ],
)  # fmt: skip
def test_a_line_not_understood_is_named_in_the_sentence_and_keeps_the_joint_from_clear(line: str) -> None:
    answer = told(CLEAR + line)
    assert answer.verdict == "not shown"
    assert not answer.clear_to_part
    assert answer.sentence == f'Not shown: line 11 was not understood: "{line}". Do not pull.'
    assert answer.next_steps[0].to_type == ("strike line 11",)
    assert told(f"{CLEAR}{line}\nstrike line 11").clear_to_part


@pytest.mark.parametrize(
    "line",
    [
        "3 still in", "3 is in", "3 not out", "3 tight", "3 seized", "3 sheared", "3 snapped",
        "3 stuck", "3 stripped", "3 loose", "3 put back", "3 in from both sides",
    ],
)  # fmt: skip
def test_the_words_of_the_shop_say_that_something_is_in(line: str) -> None:
    answer = told(CLEAR + "by Cy\n" + line)
    assert answer.sentence == "Do not pull: a fastener is still in at place 3."
    assert answer.next_steps[0].words.startswith("Place 3: ")
    assert answer.next_steps[0].to_type == ("by NAME", "3 taken out")


def test_what_was_in_and_was_taken_out_and_looked_at_by_others_is_clear_again() -> None:
    lines = CLEAR + "by Cy\n3 still in\n3 taken out\ntray 7 x M6x45\n1-7 open hole\nwent round\n"
    assert told(lines + "by Dee\n1-7 open hole both sides").clear_to_part


@pytest.mark.parametrize(
    "how",
    [
        "still bolted on", "no", "on", "not off", "not checked", "?", "off?", "stuck",
        "loose", "is loose", "slack", "loosened",
        "Ben will do it", "off, on again", "off at one side", "off, other side not", "open, not yet",
        "",
    ],
)  # fmt: skip
def test_a_holder_is_settled_by_settling_words_only(how: str) -> None:
    answer = told(CLEAR + f"holder pump bracket: {how}")
    assert not answer.clear_to_part
    assert answer.sentence == "Do not pull: pump bracket not checked. No fastener found in this joint."


@pytest.mark.parametrize(
    "how", ["off", "Off.", "taken off", "cut", "off, in tin 2", "not fitted", "none", "clear"]
)
def test_settling_words_settle(how: str) -> None:
    assert told(CLEAR + f"holder pump bracket: {how}").clear_to_part


def test_the_last_word_about_a_holder_wins_whatever_way_it_is_written() -> None:
    assert not told(CLEAR + "holder B:  on again").clear_to_part
    assert told(CLEAR + "holder B: on again\nholder  b: off").clear_to_part


def test_no_other_holders_is_an_answer_and_not_a_holder() -> None:
    answer = told(CLEAR.replace("holder b: off", "no other holders"))
    assert answer.clear_to_part
    assert answer.holders == ()
    nobody = told(CLEAR.replace("holder b: off\n", ""))
    assert nobody.next_steps[0].to_type == ("no other holders",)


@pytest.mark.parametrize("other", ["ann", "ANN", " Ann ", "Ann.", "ann:"])
def test_one_name_in_another_spelling_is_one_person(other: str) -> None:
    lines = "by Lea\n7 x M6x45\nend of list\nby Ann\n1-7 out\nwent round\n"
    lines += f"by {other}\ntray 7 x M6x45\nholder b: off"
    answer = told(lines)
    assert answer.verdict == "not shown"
    assert answer.witnesses == ("Ann", "Lea")
    assert told(lines.replace(f"by {other}", "by Ben")).clear_to_part


def test_a_hole_with_zeros_before_its_number_is_the_same_hole() -> None:
    gathered = read_typed(CLEAR + "01 out", typed_kind)
    assert len(gathered.evidence.places) == 7


def test_going_round_covers_what_was_said_before_it_and_nothing_later() -> None:
    early = CLEAR.replace("by Ann\n1-7 out\nwent round", "by Ann\nwent round\n1-7 out")
    looks = read_typed(early, typed_kind).evidence.looks
    assert not any(look.guided for look in looks if look.by == "Ann")
    assert all(look.guided for look in looks if look.by == "Ben")


def test_a_place_not_seen_is_not_covered_by_the_round_nor_by_a_later_glance() -> None:
    lines = "by Lea\n7 x M6x45\nend of list\nby Ann\n1-6 out, 7 not seen\nwent round\n"
    lines += "by Ben\ntray 7 x M6x45\nholder b: off\n"
    answer = told(lines + "by Ann\n7 out")
    assert answer.verdict == "not shown"
    assert "place 7" in answer.sentence
    assert told(lines + "by Ann\n7 open hole both sides").verdict == "free"


def test_a_round_that_left_a_place_out_does_not_show_that_there_is_no_further_one() -> None:
    lines = CLEAR.replace("by Ben\n1-7 out\nwent round", "by Ben\n1-8 out").replace(
        "7 x M6x45\nend", "8 x M6x45\nend"
    )
    gathered = read_typed(lines, typed_kind)
    assert gathered.evidence.rounds == ()
    assert any("without a word of place 8" in step.words for step in gathered.beside.next_steps)


def test_a_struck_line_is_as_if_never_typed_and_said_so() -> None:
    gathered = read_typed("7 x M6x45\n8 x M6x45\nstrike line 1\n", typed_kind)
    assert [line.words for line in gathered.evidence.lines] == ['"8 x M6x45"']
    assert [p.where for p in gathered.beside.problems if p.code == "LB-T13"] == ['line 1: "7 x M6x45"']


def test_heads_only_is_no_count_of_whole_pieces() -> None:
    gathered = read_typed("7 x M6x45\ntray 7 x M6x45 heads only\n", typed_kind)
    assert [count.complete_pieces for count in gathered.evidence.counts] == [False]


def test_a_row_of_labels_with_one_word_at_its_end_means_all_of_them() -> None:
    gathered = read_typed("1, 2 and 5 out\n", typed_kind)
    assert [look.place for look in gathered.evidence.looks] == ["1", "2", "5"]


def test_counts_that_differ_are_named_with_their_numbers() -> None:
    assert told(CLEAR.replace("tray 7", "tray 6")).why.startswith(
        "The counts: screw M6x45: typed list 7, seen out 7, tray 6."
    )


def test_nothing_said_of_the_joint_contradicts_itself_nowhere() -> None:
    assert told("7 x M6x45\n").sentence.startswith("Not shown: nothing yet says")


BEN_ONLY_COUNTS = CLEAR.replace("by Ben\n1-7 out\nwent round", "by Ben")


@pytest.mark.parametrize("typist", ["by Ann\n", "by ANN\n"])
def test_who_went_round_and_typed_the_list_is_one_witness(typist: str) -> None:
    """Ann alone may be wrong about the list and about the holes: Ben's count agrees with nobody else."""
    assert told("by Lea\n" + BEN_ONLY_COUNTS).clear_to_part
    answer = told(typist + BEN_ONLY_COUNTS)
    assert (answer.verdict, answer.margin) == ("not shown", 1)
    assert any(step.to_type == ("by NAME", "list compared") for step in answer.next_steps)
    assert told(f"{typist}{BEN_ONLY_COUNTS}by Cy\nlist compared").clear_to_part
    assert not told(f"{typist}{BEN_ONLY_COUNTS}by Ann\nlist compared").clear_to_part
    # A comparison says nothing of rows that are typed after it.
    early = BEN_ONLY_COUNTS.replace("7 x", "by Cy\nlist compared\nby Ann\n7 x", 1)
    assert not told(typist + early).clear_to_part


def test_when_one_person_alone_is_named_the_unnamed_one_is_that_person() -> None:
    alone = "7 x M6x45\nend of list\n1-7 out\nwent round\nby Ann\ntray 7 x M6x45\nholder b: off\n"
    assert told(alone).witnesses == ("Ann",)
    assert told(alone).verdict == "not shown"
    # Two are named: whoever went round is one of them, until a name is said.
    assert told(alone + "by Ben\nlist compared\n").verdict == "not shown"
    assert told(alone + "by Ben\nlist compared\nfirst by Cy\n").verdict == "free"
    # A name that says nothing of the joint is nobody.
    assert told(alone + "by Ben\nholder c: off\n").verdict == "not shown"


def test_the_end_of_a_list_rests_on_who_typed_it() -> None:
    """Nothing but Ann's word shows that there is no eighth screw in a place that nobody listed."""
    lines = "by Lea\n7 x M6x45\nby Ann\nend of list\n1-7 out\nwent round\nby Ben\ntray 7 x M6x45\n"
    assert told(lines).margin == 1
    assert told(lines + "by Cy\nend of list\n").margin == 2


STUDS = """\
by Lea
3 x M6x45
2 x M8 stud
end of list
by Ann
1-3 out
went round
by Ben
tray 3 x M6x45
1-3 out
went round
holder b: off
"""


def test_studs_without_a_row_for_their_nuts_hold_until_somebody_looked_at_the_nuts() -> None:
    assert told(STUDS.replace("2 x M8 stud\n", "")).clear_to_part
    answer = told(STUDS)
    assert answer.verdict == "not shown"
    assert answer.counts.notes == ('"2 x M8 stud": no row gives the nuts, so as many nuts are looked for.',)
    seen = STUDS.replace("1-3 out\n", "1-3 out, 4-5 nut off\n") + "tray 2 x nut M8\n"
    assert told(seen).clear_to_part
    left = told(seen.replace("4-5 nut off\nwent round\nholder", "4 nut off, 5 nut on\nwent round\nholder"))
    assert left.sentence == "Do not pull: a fastener is still in at place 5."
