"""The natural words of the shop: taken where they are sure, refused where they are not."""

import pytest

from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind
from lastbolt.words.answer import Answer

CLEAR = """\
by Lea
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


@pytest.mark.parametrize(
    ("plain", "said"),
    [
        ("7 x M6x45\nend", "7 x M6x45 from inside\nend"),
        ("7 x M6x45\nend", "7 x M6x45 from the far side\nend"),
        ("7 x M6x45\nend", "7 M6x45, from behind\nend"),
        ("7 x M6x45\nend", "7 x M6x45 (other side)\nend"),
        ("1-7 out", "1 to 7 are out"),
        ("1-7 out", "1 through 7 out"),
        ("1-7 out", "1-7: out"),
        ("1-7 out", "1-6 from inside out, 7 (far side) is out"),
        ("by Ben", "by: Ben"),
        ("went round", "went around"),
        ("went round", "I went round"),
        ("tray 7 x M6x45", "7 x M6x45 in the tray"),
        ("tray 7 x M6x45", "in the tray: 7 M6x45"),
    ],
)
def test_natural_words_say_the_same(plain: str, said: str) -> None:
    answer = told(CLEAR.replace(plain, said))
    assert not answer.unused
    assert answer.clear_to_part


@pytest.mark.parametrize(
    "line",
    [
        "7 x M6x45 not in the tray", "6 x M6x45 in the tray, 1 still in", "tray 7 x M6x45 inside the case",
        "7 x M6x45 in tray 2", "tray 7 x M6x45, 7 x M6x45", "3 x M6x45 inside the pump", "8 other side out",
        "1 x M6x45 left inside", "1 x M6x45 left behind",
        "8 is", "8 are not quite out", "1 through light", "8 inside", "8 behind", "all out", "all out but 3",
        "walked round", "8 ok", "8 checked", "8 missing", "8 was out", "help", "?", "quit", "undo", "done",
    ],
)  # fmt: skip
def test_what_is_not_sure_is_refused_and_keeps_it_from_clear(line: str) -> None:
    answer = told(CLEAR + line)
    assert answer.unused
    assert not answer.clear_to_part
    assert "Do not pull" in answer.sentence


@pytest.mark.parametrize("line", ["3 are in", "3 is not out", "3 from inside is in"])
def test_with_natural_words_too_what_is_in_is_in(line: str) -> None:
    assert told(f"{CLEAR}by Cy\n{line}").sentence == "Do not pull: a fastener is still in at place 3."


@pytest.mark.parametrize("line", ["8 hidden", "8 covered", "8 can\u2019t see", "8 not visible"])
def test_a_place_that_nobody_sees_is_not_accounted_for(line: str) -> None:
    answer = told(f"{CLEAR}by Cy\n{line}")
    assert not answer.unused
    assert not answer.clear_to_part


def test_several_sizes_in_one_tray_line() -> None:
    counts = read_typed("by Ann\ntray: 7 M10x40, 2 x M10x60 and 1 M8x30\n", typed_kind).evidence.counts
    assert [(count.pieces, count.kind.words()) for count in counts] == [
        (7, "screw M10x40"), (2, "screw M10x60"), (1, "screw M8x30"),
    ]  # fmt: skip
    heads = read_typed("by Ann\ntray 7 M10x40, 2 M10x60 heads only\n", typed_kind).evidence.counts
    assert [count.complete_pieces for count in heads] == [False, False]


def test_a_stud_nut_is_a_nut() -> None:
    assert typed_kind("M10 stud nut") == typed_kind("M10 nut") == typed_kind("stud nuts M10")


def test_a_part_that_is_loose_is_still_on_and_says_so() -> None:
    answer = told(f"{CLEAR}holder pump: loose")
    assert answer.sentence == "Do not pull: pump not checked. No fastener found in this joint."
    assert "only slackened?" in answer.holders[-1].words
    assert told(f"{CLEAR}holder pump: loose\nholder pump: off").clear_to_part


def test_a_solid_dowel_is_asked_whether_it_is_free() -> None:
    answer = told(f"{CLEAR}holder dowels: solid")
    assert not answer.clear_to_part
    assert 'type "holder dowels: free"' in answer.holders[-1].words


UNNAMED = (
    "6 x M8x35\n2 x M8x90 far side\nend of list\nby Imke\n1-8 out\nwent round\nno other holders\n"
    "by Radek\ntray 6 x M8x35\ntray 2 x M8x90\n"
)


def test_who_typed_the_list_before_any_name_is_no_third_witness() -> None:
    """With two in the shop the list was typed by one of them; clear must hold whichever it was."""
    answer = told(UNNAMED)
    assert not answer.clear_to_part
    assert "Do not pull" in answer.sentence
    assert answer.next_steps[0].to_type == ("first by NAME",)
    assert not told(f"{UNNAMED}first by Imke\n").clear_to_part
    assert not told(f"by Imke\n{UNNAMED}").clear_to_part
    assert told(f"{UNNAMED}first by Olm\n").clear_to_part
    assert told(f"by Olm\n{UNNAMED}").clear_to_part
    assert told(f"{UNNAMED}first by Olm\nfirst by Imke\n").unused, "two names are no name"


def test_no_answer_rests_on_somebody_unnamed_as_one_more_person() -> None:
    clear = told(CLEAR.removeprefix("by Lea\n"))
    assert clear.clear_to_part, "whoever typed the list, two others would have to be wrong"


def test_what_the_unnamed_one_saw_in_is_not_taken_back_as_if_by_one_of_those_named() -> None:
    assert not told("3 still in\n" + CLEAR.removeprefix("by Lea\n")).clear_to_part


HEADLINES = {
    "one forgotten": (
        CLEAR.replace("7 x M6x45\nend", "7 x M6x45\n1 x M8x30 far side\nend"),
        "Not shown: the counts do not agree (screw M8x30: list 1, none in the tray; "
        "in all list 8, places 7, tray 7). Do not pull.",
    ),
    "a place too few": (
        CLEAR.replace("1-7 out", "1-6 out"),
        "Not shown: the counts do not agree (screw M6x45: list 7, places 6, tray 7). Do not pull.",
    ),
    "glances": (
        "by Ann\n2 x M6x45\nend of list\n1-2 out\nno other holders\n",
        "Do not pull: 2 of 2 places were only glanced at: 1 and 2.",
    ),
    "nobody looked for holders": (
        CLEAR.replace("holder b: off\n", ""),
        "Do not pull: nobody has listed what else holds it. No fastener found in this joint.",
    ),
}


@pytest.mark.parametrize("scene", HEADLINES)
def test_the_headline_names_sizes_and_numbers_and_says_do_not_pull(scene: str) -> None:
    lines, sentence = HEADLINES[scene]
    assert told(lines).sentence == sentence


def test_the_one_forgotten_is_looked_for_first() -> None:
    first = told(HEADLINES["one forgotten"][0]).next_steps[0]
    assert first.words.startswith("Find 1 x M8x30 far side")
    assert '"8 in"' in first.words
    assert first.to_type == ("by NAME", "holder 1 x M8x30 far side: not fitted")


def test_rows_of_which_the_same_is_said_are_one_sentence_of_the_proof() -> None:
    two = CLEAR.replace("7 x M6x45\nend", "4 x M6x45\n3 x M6x20\nend")
    answer = told(two.replace("tray 7 x M6x45", "tray 4 x M6x45, 3 x M6x20"))
    assert answer.clear_to_part
    assert (
        len([words for words in answer.certificate if "places 1-7" in words and "no row" not in words]) == 1
    )
    assert any('Likewise for "3 x M6x20"' in words for words in answer.certificate)
