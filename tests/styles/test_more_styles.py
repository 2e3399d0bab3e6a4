"""The later styles: their truth can be told in a model in full; what their tables hold is on the pages."""

from __future__ import annotations

import io

import pdfplumber
import pytest

from styles.made import Manual, make, styles
from styles.matching import anchor
from styles.score import score
from styles.test_score import perfect

LATER = ("style_10", "style_11", "style_12", "style_13", "style_14", "style_15")
SEED = 3


@pytest.fixture(scope="module", params=[one for one in LATER if one in styles()])
def manual(request: pytest.FixtureRequest) -> Manual:
    return make(str(request.param), SEED)


def test_the_whole_truth_scores_full_marks(manual: Manual) -> None:
    total = score(perfect(manual.truth), manual.truth)
    short = {kind: (c.true, c.found, c.read, c.right) for kind, c in total.counts.items() if c.f1 < 1}
    short.pop("limits")
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
