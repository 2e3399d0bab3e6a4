"""Every line that an answer, a refusal or a help text offers to be typed is understood when it is typed."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lastbolt.app.next_shown import next_shown
from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind
from lastbolt.app.typed_refused import why_refused
from lastbolt.words.answer import Answer

WORDS = (
    "1-7 out", "8 in", "8 dowel", "8 dowel both ends", "9 hollow dowel", "9 hollow dowel empty",
    "1-9 open hole",
    "7 seized", "7 taken out", "8 gone", "went round", "went round", "by Ann", "by Ben", "by Cy",
    "tray 6 x M10 stud nut", "tray 6 x M8x35, 1 x M8x90", "tray 6 x M8x35 heads only", "end of list",
    "list compared", "no other holders", "holder pump: loose", "holder dowels: solid", "left the bench",
    "a1 out", "1 x M8x90 from inside", "strike line 3", "M8x35: 6", "6 x M8x35, 1 x M8x90", "8 open hole",
)  # fmt: skip
REFUSED = (
    "8 gone", "8", "8, 9", "9 hollow dowel", "8-9, 11 hollow dowel", "all out", "help", "M10x40: 8", "8 what",
    "8?",
    "6 x M8x35, 1 x M8x90", "6 x M8x35 and 2 M8x90", "6 x M8x35 somewhere", "tray 6 x M8x35 not complete",
    "tray 6", "by Ann and Ben", "by", "first by me", "strike line 99", "1-7 out and in", "5-4 in", "x M6",
    "hello",
    "99999999999 x M6x45", "5 gaskets", "# 2 still in", "0 x M6x45", "8 out, 9 gone", "walked round",
)  # fmt: skip


def told(lines: str) -> Answer:
    gathered = read_typed(lines, typed_kind)
    return tally_joint(gathered.evidence, gathered.beside)


def refused(text: str) -> set[str]:
    return set(read_typed(text, typed_kind).beside.unused)


@settings(max_examples=12, deadline=None)
@given(st.lists(st.sampled_from(WORDS), min_size=3, max_size=12))
def test_every_line_offered_is_understood(lines: list[str]) -> None:
    text = "\n".join(["by Lea", "6 x M8x35", *lines])
    answer = told(text)
    assert answer.clear_to_part or "Do not pull" in answer.sentence
    before = refused(text)
    steps = [step.to_type for step in (*answer.next_steps, *next_shown(answer))]
    for to_type in steps:
        for line in to_type:
            typed = line.replace("NAME", "Zoe").replace("tray N ", "tray 3 ")
            assert refused(f"{text}\n{typed}") <= before, line


@pytest.mark.parametrize("line", REFUSED)
def test_a_refusal_names_what_stopped_it_and_offers_lines_that_are_understood(line: str) -> None:
    why = why_refused(line)
    assert why.what
    for offer in why.offers:
        assert not refused(f"by Ann\n{offer}"), offer
    (problem,) = [p for p in read_typed(f"by Ann\n{line}", typed_kind).beside.problems if p.code == "LB-T07"]
    quoted = re.findall(r'"([^"]+)"', problem.do.partition(", then")[0])
    assert all(not refused(f"by Ann\n{words}") for words in quoted), problem.do


@pytest.mark.parametrize(
    ("line", "stopped", "offers"),
    [
        ("8 gone", '"gone"', ("8 not seen", "8 in")),
        ("8 brokn off", '"brokn off"', ("8 broken off", "8 broke off")),
        ("Cid: 4 out", "has not spoken", ("by Cid", "4 out")),
        ("drain plug out", "which place", ("holder drain plug: out",)),
        ("6 x M8x35 somewhere", '"somewhere"', ()),
        ("6 x M8x35, 1 x M8x90", "One size a line", ("6 x M8x35", "1 x M8x90")),
        ("M10x40: 8", "How many", ("8 x M10x40", "tray 8 x M10x40")),
        ("9 hollow dowel", "hollow dowel", ("9 hollow dowel empty", "9 hollow dowel bolt in")),
        ("by Ann and Ben", "one person", ("by Ann",)),
    ],
)
def test_the_word_that_stopped_a_line_is_named(line: str, stopped: str, offers: tuple[str, ...]) -> None:
    why = why_refused(line)
    assert stopped in why.what
    assert why.offers == offers


def test_all_lines_not_understood_are_struck_at_once() -> None:
    lines = "by Ann\n6 x M8x35\n1-6 out\n8 gone\nhello\n"
    first = told(lines).next_steps[0]
    assert first.to_type == ("strike line 4, 5",)
    assert not refused(lines + first.to_type[0])


def test_a_hollow_dowel_said_whole_by_the_same_person_need_not_be_struck() -> None:
    lines = "by Ann\n6 x M8x35\n9 hollow dowel\n"
    assert refused(lines)
    assert not refused(lines + "9 hollow dowel empty\n")
    assert refused(lines + "by Ben\n9 hollow dowel empty\n"), "Ben may have looked at another"
    assert refused(lines + "8 hollow dowel empty\n")
    assert refused("by Ann\n9 hollow dowel empty\n9 hollow dowel\n")


def test_two_looks_that_cannot_both_be_are_settled_by_the_lines_offered() -> None:
    lines = "by Ann\n1 x M8x35\n1 out, 8 solid dowel\nby Ben\n1 out, 8 open hole\n"
    (step,) = [step for step in told(lines).next_steps if step.check == "look again"]
    assert step.to_type == ("by Ben", "8 dowel both ends")
    after = told(lines + "\n".join(step.to_type))
    assert not [p for p in after.problems if p.code == "LB-T34"]


def test_the_place_a_round_missed_is_offered_as_what_others_saw_there() -> None:
    lines = "by Ann\n1 x M8x35\n1 out\nwent round\nby Ben\n9 hollow dowel empty\n8 dowel\n"
    (step,) = [step for step in told(lines).next_steps if "without a word" in step.words]
    assert step.to_type == ("by Ann", "8 solid dowel", "9 hollow dowel empty", "went round")


def test_a_place_looked_into_since_by_others_is_asked_no_more() -> None:
    lines = "by Ann\n1 x M8x35\n1 out\nwent round\nby Ben\n2 out\n"
    assert any("without a word" in step.words for step in told(lines).next_steps)
    since = told(lines + "2 open hole both sides\n")
    assert not any("without a word" in step.words for step in since.next_steps)


def test_a_dowel_is_never_offered_as_an_open_hole() -> None:
    lines = "by Ann\n6 x M8x35\nend of list\n1-6 out, 8 dowel both ends, 9 hollow dowel empty\nwent round\n"
    for step in told(lines).next_steps:
        for line in step.to_type:
            shown = told(f"{lines}by Zoe\n{line}".replace("NAME", "Zoe").replace("tray N", "tray 6"))
            assert "LB-T34" not in {problem.code for problem in shown.problems}, line


def test_a_clear_joint_asks_for_nothing_more() -> None:
    lines = "by Lea\n2 x M8x35\nend of list\nby Ann\n1 out\nwent round\n"
    lines += "by Ben\n1-2 light through\nwent round\ntray 2 x M8x35\n"
    lines += "by Cy\n1-2 out\nwent round\nno other holders\n"
    answer = told(lines)
    assert answer.clear_to_part
    assert answer.next_steps == ()


def test_steps_joined_offer_each_place_once() -> None:
    answer = told(
        "by Frieda\n6 x M10 stud nut\nend of list\n1-6 nut off\n7 seized\n8 dowel both ends\nwent round\n"
        "by Jon\ntray 6 x M10 nut\n7 taken out\nno other holders\n"
    )
    for step in next_shown(answer):
        named = [n for line in step.to_type for n in re.findall(r"\b\d+(?:-\d+)?\b", line) if "x" not in line]
        assert len(named) == len(set(named)), step.to_type
