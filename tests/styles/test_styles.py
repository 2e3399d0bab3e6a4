"""Each style's manual: the same every time, its truth really stands in it, and reading it ends."""

from __future__ import annotations

import io
from pathlib import Path

import pdfplumber
import pytest

from lastbolt.cli.read import read_files
from styles.made import HELD_OUT, Manual, make, styles
from styles.matching import anchor
from styles.score import score

SEED = 1


@pytest.fixture(scope="module", params=styles())
def manual(request: pytest.FixtureRequest) -> Manual:
    return make(str(request.param), SEED)


def _pages(pdf: bytes) -> list[str]:
    with pdfplumber.open(io.BytesIO(pdf)) as book:
        return ["".join(one["text"] for one in page.chars) for page in book.pages]


def test_the_truth_stands_in_the_pages(manual: Manual) -> None:
    pages = [anchor(text) for text in _pages(manual.pdf)]
    assert 20 <= len(pages) <= 60
    truth = manual.truth
    start = {one.key: one.page - 1 for one in truth.sections}
    wanted = [(one.key, one.number + one.title) for one in truth.sections]
    wanted += [(one.section, one.words) for one in truth.steps]
    wanted += [(one.section, one.words) for one in truth.references]
    wanted += [(one.section, one.words) for one in truth.torques if not one.what]
    wanted += [(one.section, one.words) for one in truth.cautions]
    wanted += [("parts", one.number) for one in truth.parts] + [("parts", one.name) for one in truth.parts]
    absent, split = [], 0
    for key, words in wanted:
        first = start[key]
        text = "".join(pages[first : None if key == "parts" else first + 4])
        if anchor(words) in text:
            continue
        if all(anchor(one) in text for one in words.split()):
            split += 1  # a running head or a picture stands between its halves
        else:
            absent.append((key, words) if manual.style not in HELD_OUT else key)
    assert not absent
    assert split <= 0.03 * len(wanted)


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
