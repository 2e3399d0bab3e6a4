"""From evidence to words: the sentence, the places, and that `free` is checked before it is shown."""

import json

import msgspec
import pytest
from msgspec.structs import replace

from lastbolt.app import tally_joint as module
from lastbolt.app.tally_joint import tally_joint
from lastbolt.tally.wording import Beside
from lastbolt.words.answer import HolderState
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.evidence import (
    Evidence,
    EvidencePlace,
    Line,
    ListRead,
    Look,
    Printed,
    RoundMade,
    StepSaid,
    TrayCount,
)
from lastbolt.words.quantity import Kind, exactly

M8 = Kind("screw", "M8", 55)
LONG = Kind("screw", "M8", 70)
PLACES = tuple(EvidencePlace(name, name, M8) for name in ("1", "2", "3"))
LINE = Line(
    "case",
    M8,
    (Printed(exactly(3), "Parts list", "maker"),),
    "wholly",
    "step",
    words="figure 3, item 4",
)
CLEAR = Evidence(
    "case joint",
    PLACES,
    (LINE,),
    (ListRead("Parts list", "maker"),),
    looks=tuple(Look("A", p.id, "out", True, 1) for p in PLACES),
    rounds=(RoundMade("A", 1),),
    counts=(TrayCount("B", M8, 3, 2),),
    people=(("A", "Ann"), ("B", "Ben")),
)
PUMP = HolderState("pump", "bridging part", "priming pump", False, "off?")
PAGE = Citation("Service manual", PdfPlace(31, "4-6"), "Remove the two bolts")
HIDDEN = replace(
    CLEAR,
    places=(*PLACES, EvidencePlace("9", "9", LONG)),
    lines=(
        LINE,
        Line("long", LONG, (Printed(exactly(2), "Parts list", "maker"),), words="figure 7, item 3"),
    ),
    steps=(
        StepSaid("4.2/5", "long", LONG, exactly(1), "Service manual", "maker", ("9",), "done", "B", 3,
                 "section 4.2 step 5", PAGE),
    ),
)  # fmt: skip


def test_free_names_the_holders_not_checked_and_is_not_yet_clear_to_part() -> None:
    answer = tally_joint(CLEAR, Beside(holders=(PUMP, replace(PUMP, id="nut", settled=True))))
    assert answer.verdict == "free"
    assert answer.sentence == "Do not pull: priming pump not checked. No fastener found in this joint."
    assert not answer.clear_to_part


def test_clear_to_part_needs_every_holder_settled_and_somebody_who_listed_them() -> None:
    assert tally_joint(CLEAR, Beside(holders=(replace(PUMP, settled=True),))).clear_to_part
    assert not tally_joint(CLEAR).clear_to_part


def test_the_hidden_place_is_named_with_its_figure_step_and_page() -> None:
    answer = tally_joint(HIDDEN)
    assert answer.sentence == "Do not pull: 1 of 4 places is not accounted for: place 9."
    (suspicion,) = [s for s in answer.suspicions if s.about == ("9",)]
    for words in ("nobody has looked", "figure 7, item 3", "lists 2 x screw M8x70", "Section 4.2 step 5",
                  "printed page 4-6", "only ticked"):  # fmt: skip
        assert words in suspicion.words
    assert PAGE in suspicion.citations
    assert any(step.check.endswith(" 9") for step in answer.next_steps)


def test_something_seen_in_stands_in_the_sentence() -> None:
    looks = (*CLEAR.looks, Look("B", "2", "in", True, 3))
    answer = tally_joint(replace(CLEAR, looks=looks))
    assert answer.sentence == "Do not pull: a fastener is still in at place 2."
    assert answer.verdict != "free"


def test_free_is_taken_back_when_the_second_program_refuses(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "reasons_not_verified", lambda *_: ["it does not add up"])
    answer = tally_joint(CLEAR, Beside(holders=(replace(PUMP, settled=True),)))
    assert (answer.verdict, answer.clear_to_part, answer.certificate) == ("not shown", False, ())
    assert [problem.code for problem in answer.problems] == ["LB-T02"]
    assert "Do not pull" in answer.sentence


def test_a_place_that_takes_a_reserved_name_is_refused() -> None:
    answer = tally_joint(replace(CLEAR, places=(*PLACES, EvidencePlace("*", "10"))))
    assert answer.verdict == "not shown"
    assert [problem.code for problem in answer.problems] == ["LB-T01"]


def test_the_certificate_says_who_would_have_to_be_wrong() -> None:
    words = " ".join(tally_joint(CLEAR).certificate)
    assert "both would have to be wrong" in words
    assert 'Ann at that place: "out"' in words
    assert "Ben counted 3 x screw M8x55" in words


@pytest.mark.parametrize("evidence", [CLEAR, HIDDEN, Evidence("nothing known")])
def test_the_word_pull_stands_only_behind_do_not_and_no_rate_is_shown(evidence: Evidence) -> None:
    answer = tally_joint(evidence)
    text = json.dumps(msgspec.to_builtins(answer)).lower()
    assert text.count("pull") == text.count("do not pull")
    assert "chance" not in text
    assert "probab" not in text


def test_nothing_known_is_not_shown() -> None:
    assert tally_joint(Evidence("nothing known")).verdict == "not shown"
