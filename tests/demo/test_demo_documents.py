"""The made documents as files: the same bytes twice, whole pages, embedded fonts."""

from __future__ import annotations

import time
from pathlib import Path

import pdfplumber
import pypdfium2
import pytest

DOCUMENTS = ("manual.pdf", "parts_list.pdf")


def test_the_same_bytes_every_time(made: Path, small: Path, tmp_path: Path) -> None:
    from demo.generate import generate
    from demo.small.generate import generate as generate_small

    for first, again in ((made, generate(tmp_path / "a")), (small, generate_small(tmp_path / "b"))):
        for path in again:
            assert path.read_bytes() == (first / path.name).read_bytes(), path.name


def test_made_within_a_few_seconds(tmp_path: Path) -> None:
    from demo.generate import generate

    start = time.monotonic()
    generate(tmp_path)
    assert time.monotonic() - start < 10


def test_page_counts(made: Path, small: Path) -> None:
    counts = [len(pypdfium2.PdfDocument(f)) for f in (*(made / d for d in DOCUMENTS), small / "manual.pdf")]
    assert counts == [25, 14, 4]


@pytest.mark.parametrize("name", DOCUMENTS)
def test_nothing_outside_the_page_and_no_empty_page(made: Path, name: str) -> None:
    with pdfplumber.open(made / name) as document:
        for page in document.pages:
            assert len(page.extract_text()) > 60, page.page_number
            for thing in (*page.chars, *page.lines, *page.curves, *page.rects):
                inside = (
                    thing["x0"] >= 20
                    and thing["x1"] <= page.width - 20
                    and thing["top"] >= 20
                    and thing["bottom"] <= page.height - 20
                )
                assert inside, (page.page_number, thing.get("text"), thing["x0"], thing["x1"])


@pytest.mark.parametrize("name", DOCUMENTS)
def test_fonts_are_embedded(made: Path, name: str) -> None:
    with pdfplumber.open(made / name) as document:
        fonts = {char["fontname"] for page in document.pages for char in page.chars}
    assert fonts
    assert all(font[6] == "+" for font in fonts), fonts  # a subset prefix: PDF 32000-1, 9.6.4
    assert {font[7:].split("-")[0] for font in fonts} == {"LibertinusSerif", "Roboto"}


def test_printed_pages_differ_from_pdf_pages(made: Path) -> None:
    document = pypdfium2.PdfDocument(made / "manual.pdf")
    last_words = [page.get_textpage().get_text_range().split()[-1] for page in document]
    assert last_words[1:5] == ["ii", "iii", "1-1", "1-2"]
    assert last_words[-1] == "8-3"
    assert len({word.split("-")[0] for word in last_words[3:]}) == 8
