"""The later styles: their truth can be told in a model in full; what their tables hold is on the pages."""

from __future__ import annotations

import io

import msgspec
import pdfplumber
import pytest

from lastbolt.words.machine import Caution, Machine
from styles.made import Manual, make, styles
from styles.matching import anchor
from styles.score import score
from styles.test_score import perfect
from styles.truth import Truth

LATER = ("style_10", "style_11", "style_12", "style_13", "style_14", "style_15")
SEED = 3


@pytest.fixture(scope="module", params=[one for one in LATER if one in styles()])
def manual(request: pytest.FixtureRequest) -> Manual:
    return make(str(request.param), SEED)


def _each_caution_once(machine: Machine, truth: Truth) -> Machine:
    """Where marks start from 1 again in a section, a caution stands at the first step of its mark only."""
    left = [(one.section, one.words) for one in truth.cautions]
    procedures = []
    for procedure in machine.procedures:
        steps = []
        for step in procedure.steps:
            kept: list[Caution] = []
            for one in step.cautions:
                if (procedure.id[2:], one.words) in left:
                    left.remove((procedure.id[2:], one.words))
                    kept.append(one)
            steps.append(msgspec.structs.replace(step, cautions=tuple(kept)))
        procedures.append(msgspec.structs.replace(procedure, steps=tuple(steps)))
    return msgspec.structs.replace(machine, procedures=tuple(procedures))


def test_the_whole_truth_scores_full_marks(manual: Manual) -> None:
    truth = manual.truth
    total = score(_each_caution_once(perfect(truth), truth), truth)
    short = {kind: (c.true, c.found, c.read, c.right) for kind, c in total.counts.items() if c.f1 < 1}
    assert short == {}
    assert (total.silent, total.wrong) == (0, 0)
    assert total.misses == []


def test_each_line_of_the_tables_stands_on_the_pages(manual: Manual) -> None:
    with pdfplumber.open(io.BytesIO(manual.pdf)) as book:
        pages = [anchor("".join(one["text"] for one in page.chars)) for page in book.pages]
    text = "".join(pages)
    for one in manual.truth.torques:
        if one.what:
            assert all(anchor(word) in text for word in f"{one.what} {one.words}".split()), one
    for row in manual.truth.parts:
        assert any(anchor(row.number) in page and anchor(row.name) in page for page in pages), row


def test_every_kind_of_thing_is_there(manual: Manual) -> None:
    truth = manual.truth
    assert len(truth.parts) >= 60
    assert len(truth.cautions) >= 10
    assert len([one for one in truth.torques if one.what]) >= 10
    assert len([one for one in truth.torques if not one.what]) >= 8
    assert len({one.kind for one in truth.references}) >= 10
    assert {one.expect for one in truth.references} >= {"resolved", "dangling", "other book", "in words"}
