"""Bad PDF files: one clear problem each, no crash, no hang, and what could be read is kept."""

import random
import struct
import zlib
from pathlib import Path

import pytest

from failure.made_pdf import Page, locked_pdf, made_pdf, text_at, typeset_pdf
from lastbolt.edge.pdf_frames import Limits
from lastbolt.edge.pdf_in import PdfSettings, page_count, read_pages, render_crop
from lastbolt.words.page import PageLayout
from lastbolt.words.problem import Problem, Refusal

FIVE_PAGES = "#set page(height: 8cm)\n" + "\n#pagebreak()\n".join(
    f"= Chapter {n}\nRemove the {n} screws M6x{n}5 of the cover." for n in range(1, 6)
)


def read(path: Path, **settings: object) -> tuple[list[PageLayout], list[Problem]]:
    """Pages and problems of the file."""
    items = list(read_pages(path, PdfSettings(**settings)))  # type: ignore[arg-type]
    pages = [item for item in items if isinstance(item, PageLayout)]
    return pages, [item for item in items if isinstance(item, Problem)]


def refusal(path: Path) -> Problem:
    """The single problem with which the file is refused."""
    with pytest.raises(Refusal) as caught:
        read(path)
    assert len(caught.value.problems) == 1
    problem = caught.value.problems[0]
    assert problem.grade == "stop"
    assert str(path) in problem.where
    assert problem.what
    assert problem.do
    return problem


def texts(pages: list[PageLayout]) -> list[str]:
    """All words, page by page."""
    return [" ".join(word.text for word in page.words) for page in pages]


def outcome(path: Path) -> tuple[list[PageLayout], list[Problem]]:
    """Pages and problems; a refusal is its problems without pages."""
    try:
        return read(path, workers=1)
    except Refusal as refused:
        return [], list(refused.problems)


@pytest.fixture(scope="module")
def five_pages(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A whole five-page file."""
    return typeset_pdf(tmp_path_factory.mktemp("whole") / "five.pdf", FIVE_PAGES).read_bytes()


@pytest.fixture(scope="module")
def whole_words(tmp_path_factory: pytest.TempPathFactory, five_pages: bytes) -> list[str]:
    """Its words."""
    path = tmp_path_factory.mktemp("whole") / "five.pdf"
    path.write_bytes(five_pages)
    return texts(read(path, workers=1)[0])


def test_missing_file(tmp_path: Path) -> None:
    assert refusal(tmp_path / "none.pdf").code == "LB-F01"


def test_folder(tmp_path: Path) -> None:
    assert refusal(tmp_path).code == "LB-F02"


def test_zero_bytes(tmp_path: Path) -> None:
    path = tmp_path / "empty.pdf"
    path.write_bytes(b"")
    assert refusal(path).code == "LB-F04"


@pytest.mark.parametrize("seed", range(5))
def test_random_bytes(tmp_path: Path, seed: int) -> None:
    path = tmp_path / "noise.pdf"
    path.write_bytes(random.Random(seed).randbytes(5000))
    assert refusal(path).code == "LB-F05"


def test_header_and_noise(tmp_path: Path) -> None:
    path = tmp_path / "noise.pdf"
    path.write_bytes(b"%PDF-1.7\n" + random.Random(3).randbytes(5000))
    assert refusal(path).code == "LB-F07"


def test_locked_with_a_password(tmp_path: Path) -> None:
    assert refusal(locked_pdf(tmp_path / "locked.pdf")).code == "LB-F06"


def test_cut_off_but_repairable_keeps_its_pages_and_says_so(tmp_path: Path) -> None:
    path = made_pdf(tmp_path / "cut.pdf", [Page(text_at(50, 500, f"page {n}")) for n in range(3)])
    whole = path.read_bytes()
    path.write_bytes(whole[: whole.index(b"startxref")])
    pages, problems = read(path)
    assert texts(pages) == ["page 0", "page 1", "page 2"]
    assert [problem.code for problem in problems] == ["LB-F09"]
    assert "end is missing" in problems[0].what


@pytest.mark.parametrize("part", [0.1, 0.3, 0.5, 0.7, 0.9, 0.98])
def test_cut_off_anywhere_is_said(tmp_path: Path, part: float) -> None:
    path = typeset_pdf(tmp_path / "cut.pdf", FIVE_PAGES)
    whole = path.read_bytes()
    path.write_bytes(whole[: int(part * len(whole))])
    pages, problems = outcome(path)
    codes = {problem.code for problem in problems}
    assert "LB-F09" in codes if pages else codes == {"LB-F07"}


def test_pages_that_are_pictures_are_named(tmp_path: Path) -> None:
    picture = tmp_path / "scan.png"
    picture.write_bytes(grey_png(40, 60))
    markup = (
        "#set page(width: 10cm, height: 15cm, margin: 0pt)\n"
        f'#image("{picture.name}", width: 100%, height: 100%)\n#pagebreak()\n'
        f'Words.\n#pagebreak()\n#image("{picture.name}", width: 100%, height: 100%)\n#pagebreak()\n'
        f'#image("{picture.name}", width: 100%, height: 100%)'
    )
    source = tmp_path / "scan.typ"
    source.write_text(markup, encoding="utf-8")
    import typst

    typst.compile(str(source), output=str(tmp_path / "scan.pdf"))
    pages, problems = read(tmp_path / "scan.pdf", source="manual")
    assert len(pages) == 4
    assert [problem.code for problem in problems] == ["LB-F12"]
    assert "no letter" in problems[0].what
    assert "PDF pages 1, 3-4" in problems[0].where
    assert {c.source for c in problems[0].citations} == {"manual"}


@pytest.mark.parametrize("seed", range(50))
def test_flipped_bits_neither_crash_nor_change_a_word_in_silence(
    tmp_path: Path, seed: int, five_pages: bytes, whole_words: list[str]
) -> None:
    rng = random.Random(seed)
    path = tmp_path / "flipped.pdf"
    data = bytearray(five_pages)
    for _ in range(rng.choice((1, 3, 20))):
        data[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
    path.write_bytes(data)
    pages, problems = outcome(path)
    assert texts(pages) == whole_words or problems, "words changed and nothing was said"


def test_a_page_that_takes_too_long_is_named_and_the_others_kept(tmp_path: Path) -> None:
    heavy = b"q " * 10 + b"".join(text_at(20, 580 - n % 560, "endless words here") for n in range(300_000))
    pages = [Page(text_at(50, 500, "first")), Page(heavy), Page(text_at(50, 500, "last"))]
    path = made_pdf(tmp_path / "slow.pdf", pages)
    read_, problems = read(path, limits=Limits(page_s=0.4), source="m")
    assert texts(read_) == ["first", "last"]
    lost = [problem for problem in problems if problem.code == "LB-F10"]
    assert len(lost) == 1
    assert "PDF page 2" in lost[0].where
    assert "too long" in lost[0].what


def test_a_page_that_eats_the_memory_is_named_and_the_others_kept(tmp_path: Path) -> None:
    heavy = b"".join(text_at(20, 580 - n % 560, "endless words here") for n in range(400_000))
    pages = [Page(text_at(50, 500, "first")), Page(heavy), Page(text_at(50, 500, "last"))]
    path = made_pdf(tmp_path / "big.pdf", pages)
    read_, problems = read(path, limits=Limits(memory_MB=260, page_s=60), source="m")
    assert texts(read_) == ["first", "last"]
    assert [p.where for p in problems if p.code == "LB-F10"] == [f"{path}, PDF page 2"]


def test_a_file_that_ends_the_reader_again_and_again_is_given_up_with_one_problem(tmp_path: Path) -> None:
    path = made_pdf(tmp_path / "bad.pdf", [Page(text_at(50, 500, "x") * 3000) for _ in range(40)])
    pages, problems = read(path, limits=Limits(page_s=0.0005), source="m", workers=1)
    assert pages == []
    assert [p.code for p in problems].count("LB-F11") == 1
    assert problems[-1].code == "LB-F11"
    assert "22-40" in problems[-1].do


def test_both_workers_give_the_pages_in_order(tmp_path: Path) -> None:
    path = made_pdf(tmp_path / "many.pdf", [Page(text_at(50, 500, f"n{n}")) for n in range(1, 42)])
    seen: list[tuple[int, int]] = []
    pages = list(read_pages(path, PdfSettings(workers=2), lambda done, whole: seen.append((done, whole))))
    assert [p.pdf_page for p in pages if isinstance(p, PageLayout)] == list(range(1, 42))
    assert [p.words[0].text for p in pages if isinstance(p, PageLayout)] == [f"n{n}" for n in range(1, 42)]
    assert seen[-1] == (41, 41)


def test_stopping_early_leaves_no_process(tmp_path: Path) -> None:
    path = made_pdf(tmp_path / "many.pdf", [Page(text_at(50, 500, f"n{n}")) for n in range(60)])
    pages = read_pages(path, PdfSettings(workers=2))
    next(pages)
    pages.close()  # type: ignore[attr-defined]
    assert page_count(path) == 60


def test_characters_without_meaning_are_said(tmp_path: Path) -> None:
    font = (
        "/Type /Font /Subtype /Type3 /FontBBox [0 0 10 10] /FontMatrix [0.1 0 0 0.1 0 0] /FirstChar 65 "
        "/LastChar 66 /Widths [10 10] /Encoding << /Differences [65 /gone1 /gone2] >> "
        "/CharProcs << >> /Resources << >>"
    )
    path = made_pdf(tmp_path / "odd.pdf", [Page(text_at(50, 500, "AB"))], font=font)
    pages, problems = read(path)
    shown = " ".join(texts(pages))
    assert shown == "\ufffd\ufffd"
    assert [problem.code for problem in problems] == ["LB-F13"]


def test_a_cut_picture_of_a_page_that_is_not_there_is_empty(tmp_path: Path) -> None:
    path = made_pdf(tmp_path / "one.pdf", [Page(text_at(50, 500, "x"))])
    assert render_crop(path, 7, (0, 0, 1, 1)) == b""
    assert render_crop(path, 1, (0.5, 0.5, 0.5, 0.5)) == b""


def grey_png(width: int, height: int) -> bytes:
    """A plain grey picture (PNG, ISO/IEC 15948)."""

    def chunk(name: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    rows = (b"\x00" + b"\x90" * width) * height
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(rows))
        + chunk(b"IEND", b"")
    )
