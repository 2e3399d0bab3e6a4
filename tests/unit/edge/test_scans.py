"""Scanned pages: a page of known words is made into a worn picture of itself, and read back from that.

The words are known by construction; the wear (turn, shade, print of the other side, grain) is drawn
with OpenCV, a general-purpose library.
"""

from pathlib import Path

import numpy as np
import pypdfium2
import pytest
import typst
from msgspec.structs import replace
from PIL import Image

cv2 = pytest.importorskip("cv2")
pytest.importorskip("tesserocr")

from lastbolt.cli.main import main  # noqa: E402
from lastbolt.edge import scan_kept, scanned_pages  # noqa: E402
from lastbolt.edge.documents import load  # noqa: E402
from lastbolt.edge.pdf_in import PdfSettings, read_pages  # noqa: E402
from lastbolt.edge.scan_in import ScanReader  # noqa: E402
from lastbolt.edge.scan_picture import cleaned, drawn_on, made_fit, turned  # noqa: E402
from lastbolt.edge.scan_words import _Raw, _without_noise  # noqa: E402
from lastbolt.words.machine import Machine  # noqa: E402
from lastbolt.words.page import PageLayout  # noqa: E402
from lastbolt.words.problem import Problem  # noqa: E402

STEPS = (
    "Drain the oil before the cover comes off.",
    "Remove the seven screws M6 x 45 and the two screws M8 x 70.",
    "Take the pump bracket off its dowels and keep the shims with it.",
    "Tighten the drain plug to 45 N·m.",
)
MARKUP = """
#set page(width: 148mm, height: 210mm, margin: 18mm, footer: align(center)[4-6])
#set text(font: "Libertinus Serif", size: 11pt)
#text(size: 16pt, weight: "bold")[4.2 Removing the pump bracket]

{steps}

#pagebreak()
#text(size: 16pt, weight: "bold")[4.3 Fan]

1. See section 4.2.
"""
DPI = 200


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two pages as a printer would make them."""
    folder = tmp_path_factory.mktemp("scan")
    steps = "\n\n".join(f"{number}. {words}" for number, words in enumerate(STEPS, start=1))
    (folder / "page.typ").write_text(MARKUP.replace("{steps}", steps), encoding="utf-8")
    typst.compile(str(folder / "page.typ"), output=str(folder / "page.pdf"))
    return folder / "page.pdf"


def grey_of(pdf: Path, number: int) -> np.ndarray:
    document = pypdfium2.PdfDocument(str(pdf))
    try:
        return np.array(document[number].render(scale=DPI / 72, grayscale=True).to_numpy()).squeeze()
    finally:
        document.close()


def worn(grey: np.ndarray, turn_deg: float = 0.7) -> np.ndarray:
    """The page as a copier's scan: turned, shaded to one side, the back showing through, grainy."""
    draw = np.random.default_rng(3)
    through = (255 - cv2.GaussianBlur(grey[:, ::-1], (0, 0), 2.0)) * 0.06
    shade = np.linspace(0.84, 1.0, grey.shape[1])
    page = turned((np.clip(grey - through, 0, 255) * shade).astype(np.uint8), turn_deg)
    page = cv2.GaussianBlur(page, (0, 0), 0.6).astype(np.float32) + draw.normal(0, 6, grey.shape)
    return np.clip(page, 0, 255).astype(np.uint8)


@pytest.fixture(scope="module")
def scanned(printed: Path) -> Path:
    """The same two pages as pictures, worn."""
    pages = [Image.fromarray(worn(grey_of(printed, number))) for number in (0, 1)]
    path = printed.with_name("scan.pdf")
    pages[0].save(path, save_all=True, append_images=pages[1:], resolution=DPI)
    return path


def read(path: Path, kept: Path, **more: bool) -> tuple[list[PageLayout], list[Problem]]:
    found = list(read_pages(path, PdfSettings(source="m", kept=kept, **more)))
    return [one for one in found if isinstance(one, PageLayout)], [
        one for one in found if isinstance(one, Problem)
    ]


def test_the_words_come_back_in_order_with_their_places(scanned: Path, printed: Path, tmp_path: Path) -> None:
    (first, second), problems = read(scanned, tmp_path)
    (as_printed, _), _ = read(printed, tmp_path)
    assert [word.text for word in first.words if word.text.isalpha()] == [
        word.text for word in as_printed.words if word.text.isalpha()
    ]
    for found, truth in zip(first.words[:4], as_printed.words[:4], strict=True):
        assert abs(found.left - truth.left) < 0.01
        assert abs(found.bottom - truth.bottom) < 0.01
    assert first.words[1].size_pt == pytest.approx(16, abs=2)
    assert first.words[1].bold
    assert not next(word for word in first.words if word.text == "before").bold
    assert (first.scanned, second.scanned) == (True, True)
    assert problems[0].code == "LB-F14"
    assert problems[0].where.endswith("PDF pages 1-2")


def test_what_was_read_is_kept_and_found_again(scanned: Path, tmp_path: Path) -> None:
    once, _ = read(scanned, tmp_path)
    files = sorted(tmp_path.iterdir())
    assert len(files) == 2
    first = scan_kept.kept(tmp_path, files[0].stem, 7)
    assert first is not None
    assert first.layout.pdf_page == 7
    marker = replace(first, layout=replace(first.layout, words=first.layout.words[:1]))
    scan_kept.keep(tmp_path, marker)
    again, _ = read(scanned, tmp_path)
    assert min(len(page.words) for page in again) == 1
    for file in files:
        file.write_text("half a file")
    assert read(scanned, tmp_path)[0] == once


def test_pages_that_cannot_be_kept_are_read_all_the_same(scanned: Path, tmp_path: Path) -> None:
    (tmp_path / "no folder").write_text("a file stands where the folder would be")
    under = tmp_path / "kept"
    once, _ = read(scanned, under)
    for file in under.iterdir():
        file.unlink()
        file.mkdir()  # nothing can be written under this name
    assert read(scanned, under)[0] == once
    assert read(scanned, tmp_path / "no folder")[0] == once


def test_a_figure_beside_a_rule_or_tall_at_the_head_of_a_line_is_never_dropped() -> None:
    def raw(text: str, high: int = 20, sure: float = 90.0) -> _Raw:
        return _Raw(text, sure, (0, 0, 10, high), 1, 2.0)

    kept = _without_noise([raw("M6", 30), raw("nuts"), raw("|6"), raw("<5"), raw("|"), raw("as")])
    assert [(one.text, one.sure) for one in kept] == [
        ("M6", 90.0),
        ("nuts", 90.0),
        ("6", 0.0),
        ("<5", 0.0),
        ("as", 90.0),
    ]


def test_without_the_reader_of_scans_the_pages_are_named(
    scanned: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(scanned_pages, "can_read_scans", lambda: False)
    pages, (problem,) = read(scanned, tmp_path)
    assert [page.words for page in pages] == [(), ()]
    assert problem.code == "LB-F12"
    assert "lastbolt[scan]" in problem.do


def test_a_page_on_which_the_reader_fails_is_not_said_to_want_the_reader(
    scanned: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ScanReader, "_read", lambda self, pdf_page: None)
    pages, (problem,) = read(scanned, tmp_path)
    assert [page.words for page in pages] == [(), ()]
    assert (problem.code, "install" in problem.do.lower()) == ("LB-F12", False)
    assert "gave up" in problem.what


def test_a_scanned_page_keeps_the_plan_from_complete(scanned: Path, tmp_path: Path) -> None:
    out = tmp_path / "m.json"
    assert main(["read", str(scanned), "--out", str(out)]) == 1
    machine = load(out, Machine)
    assert {page.state for page in machine.pages} == {"unexplained"}
    words = [step.words for procedure in machine.procedures for step in procedure.steps]
    assert STEPS[0] in words
    assert main(["plan", "4.2", "--model", str(out), "--out", str(tmp_path / "p.json")]) == 1


@pytest.mark.parametrize("turn_deg", [-2.4, -0.6, 0.0, 0.35, 1.7])
def test_the_turn_of_a_page_is_found(printed: Path, turn_deg: float) -> None:
    fit = made_fit(worn(grey_of(printed, 0), turn_deg))
    assert fit.turn_deg == pytest.approx(-turn_deg, abs=0.12)


def test_shade_and_grain_go_and_ink_stays(printed: Path) -> None:
    grey = grey_of(printed, 0)
    clean = cleaned(worn(grey, 0.0))
    paper, ink = clean[grey > 250], clean[grey < 20]
    assert np.percentile(paper, 10) > 240
    assert np.median(ink) < 60


def test_hairlines_of_a_table_are_found_and_the_paper_edge_is_not() -> None:
    grey = np.full((1600, 1100), 225, np.uint8)
    grey[:, :6] = 60
    for row in (400, 440, 480):
        grey[row, 100:1000] = 90
    grey[400:481, 550] = 90
    found = drawn_on(made_fit(grey))
    flat = [one for one in found if one.right - one.left > 0.5]
    upright = [one for one in found if one.bottom - one.top > 0.04]
    assert len(flat) == 3
    assert len(upright) == 1
    assert upright[0].left == pytest.approx(0.5, abs=0.01)
