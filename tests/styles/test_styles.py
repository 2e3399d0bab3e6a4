"""Each style's manual: the same every time, its truth really stands in it, and reading it ends."""

from __future__ import annotations

import io
from pathlib import Path

import pdfplumber
import pypdfium2
import pytest

from lastbolt.cli.read import read_files
from styles.made import HELD_OUT, Manual, make, styles
from styles.matching import anchor
from styles.score import score
from styles.truth import Truth

SEED = 1


@pytest.fixture(scope="module", params=styles())
def manual(request: pytest.FixtureRequest) -> Manual:
    return make(str(request.param), SEED)


def _pages(pdf: bytes, first: int, last: int) -> dict[int, str]:
    """Letters and digits of the pages, in the order in which they were set."""
    with pdfplumber.open(io.BytesIO(pdf), pages=list(range(first, last + 1))) as book:
        return {page.page_number: anchor("".join(one["text"] for one in page.chars)) for page in book.pages}


def _said(truth: Truth) -> list[tuple[str, str]]:
    said = [(one.key, one.number + one.title) for one in truth.sections]
    said += [(one.section, one.words) for one in truth.steps]
    said += [(one.section, one.words) for one in truth.references]
    said += [(one.section, one.words) for one in truth.torques if not one.what]
    said += [(one.section, one.words) for one in truth.limits if one.step]
    said += [(one.section, one.words) for one in truth.cautions]
    return said + [("parts", word) for one in truth.parts for word in (one.number, one.name)]


def _stands(manual: Manual, first: int, last: int) -> None:
    """What begins on these pages stands on them (or, where a page ends, on the next)."""
    pages = _pages(manual.pdf, first, last + 3)
    start = {one.key: one.page for one in manual.truth.sections}
    wanted = [
        (key, words)
        for key, words in _said(manual.truth)
        if first <= start[key] <= last and (key != "parts" or first == 1)
    ]
    assert len(wanted) >= 20
    absent, split = [], 0
    for key, words in wanted:
        ends = max(pages) if key == "parts" else start[key] + 3
        text = "".join(said for number, said in pages.items() if start[key] <= number <= ends)
        if anchor(words) in text:
            continue
        if all(anchor(one) in text for one in words.split()):
            split += 1  # a running head or a picture stands between its halves
        else:
            absent.append((key, words) if manual.style not in HELD_OUT else key)
    assert not absent
    assert split <= 0.08 * len(wanted)


def test_the_truth_stands_in_the_pages(manual: Manual) -> None:
    _stands(manual, 8, 11)


@pytest.mark.long
def test_the_truth_stands_in_all_pages(manual: Manual) -> None:
    count = len(pypdfium2.PdfDocument(manual.pdf))
    assert 20 <= count <= 60
    _stands(manual, 1, count)


def test_the_truth_agrees_with_itself(manual: Manual) -> None:
    truth = manual.truth
    keys = {one.key for one in truth.sections}
    assert len(keys) == len(truth.sections)
    assert 25 <= len({one.section for one in truth.steps}) <= 60
    for one in truth.references:
        assert one.section in keys
        assert set(one.targets) <= keys
        assert bool(one.targets) == (one.expect not in ("dangling", "other book"))
    numbers = {one.number for one in truth.sections if one.number}
    for one in truth.references:
        if one.expect == "dangling":
            assert not any(word.strip("()[],.") in numbers for word in one.words.split())
    for one in truth.torques:
        assert 0 < one.low_Nm <= one.high_Nm


def test_it_is_the_same_every_time(manual: Manual) -> None:
    again = make(manual.style, manual.seed)
    assert again.pdf == manual.pdf
    assert again.truth == manual.truth


def test_reading_ends(manual: Manual, tmp_path: Path) -> None:
    path = tmp_path / "manual.pdf"
    path.write_bytes(manual.pdf)
    total = score(read_files([path]).machine, manual.truth)
    assert total.counts["steps"].true == len(manual.truth.steps)
    assert total.led + total.silent <= len(manual.truth.references)
