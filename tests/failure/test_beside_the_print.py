"""What stands on a page and is no printed line is told: typed notes, filled fields, strips of picture."""

from pathlib import Path

import pytest

from failure.made_pdf import Page, made_pdf, text_at
from lastbolt.cli.read import read_files
from lastbolt.words.machine import Machine

STEPS = (
    text_at(60, 540, "4.2 Opening the gearcase", 16)
    + text_at(60, 500, "1. Drain the oil from the gearcase.")
    + text_at(60, 485, "2. Remove the 7 screws M6 x 45.")
    + text_at(60, 445, "4. Lift the cover off by hand.")
)
SAID = "remove also the bolt M8 x 70"
IMAGE = "q {w} 0 0 {h} {x} {y} cm BI /W 2 /H 1 /CS /G /BPC 8 ID \x10\xf0 EI Q\n"


def model_of(folder: Path, content: bytes = STEPS, entries: str = "") -> Machine:
    """The page as a model."""
    made_pdf(folder / "manual.pdf", [Page(content, entries)])
    return read_files([folder / "manual.pdf"]).machine


def annotation(sort: str, rest: str, flags: int = 4) -> str:
    """A page entry with one annotation."""
    return f"/Annots [<< /Type /Annot /Subtype /{sort} /Rect [60 300 300 340] /F {flags} {rest} >>]"


def told(machine: Machine) -> list[tuple[str, str]]:
    """Code and words of what is told of the pages."""
    return [(problem.code, problem.what) for problem in machine.problems if problem.code >= "LB-R2"]


def strip(x: float = 60, y: float = 462, w: float = 260, h: float = 14) -> bytes:
    """Content that shows a picture of that size."""
    return IMAGE.format(x=x, y=y, w=w, h=h).encode("latin-1")


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        (annotation("FreeText", f"/Contents ({SAID}) /DA (/Helv 10 Tf)"), "a note was added to the page"),
        (annotation("Text", f"/Contents ({SAID})"), "a note was added to the page"),
        (annotation("Stamp", f"/Contents ({SAID})"), "a note was added to the page"),
        (annotation("Widget", f"/FT /Tx /T (a) /V ({SAID})"), "a form field is filled in"),
    ],
)
def test_what_was_added_to_a_page_is_told_with_its_words(tmp_path: Path, entries: str, said: str) -> None:
    machine = model_of(tmp_path, entries=entries)
    assert told(machine) == [("LB-R22", f'On page 1, {said}: "{SAID}".')]
    assert [(page.state, page.why) for page in machine.pages] == [("unexplained", said)]


def test_a_field_that_has_its_value_from_its_parent_is_told(tmp_path: Path) -> None:
    path = made_pdf(tmp_path / "manual.pdf", [Page(STEPS, "/Annots [7 0 R]")])
    field = f"6 0 obj\n<< /FT /Tx /T (a) /V ({SAID}) /Kids [7 0 R] >>\nendobj\n"
    widget = (
        "7 0 obj\n<< /Type /Annot /Subtype /Widget /Rect [60 300 300 340] /F 4 /Parent 6 0 R >>\nendobj\n"
    )
    whole = path.read_bytes().replace(b"/Type /Catalog", b"/Type /Catalog /AcroForm << /Fields [6 0 R] >>")
    path.write_bytes(whole.replace(b"xref\n", f"{field}{widget}xref\n".encode(), 1))  # its places are rebuilt
    machine = read_files([path]).machine
    assert f'On page 1, a form field is filled in: "{SAID}".' in [what for _, what in told(machine)]


def test_words_that_are_struck_out_are_told(tmp_path: Path) -> None:
    quad = "/QuadPoints [58 497 300 497 58 483 300 483]"
    machine = model_of(tmp_path, entries=annotation("StrikeOut", quad))
    ((code, what),) = told(machine)
    assert code == "LB-R22"
    assert "words are struck out" in what
    assert "7 screws M6 x 45" in what


@pytest.mark.parametrize(
    "entries",
    [
        annotation("FreeText", f"/Contents ({SAID})", flags=2),
        annotation("FreeText", f"/Contents ({SAID})", flags=32),
        annotation("Link", "/Border [0 0 0]"),
        annotation("Popup", f"/Contents ({SAID})"),
        annotation("Text", "/Contents ()"),
        annotation("Widget", "/FT /Tx /T (a)"),
        "/Annots [null 5 << /Subtype /FreeText >>]",
    ],
)
def test_what_nobody_sees_or_says_nothing_is_not_told(tmp_path: Path, entries: str) -> None:
    assert told(model_of(tmp_path, entries=entries)) == []


def test_a_strip_of_picture_between_the_lines_is_told(tmp_path: Path) -> None:
    machine = model_of(tmp_path, STEPS + strip())
    assert [code for code, _ in told(machine)] == ["LB-R23"]
    assert [page.state for page in machine.pages] == ["unexplained"]


@pytest.mark.parametrize(
    "picture",
    [
        strip(w=30),
        strip(y=580),
        strip(y=10),
        strip(h=120),
        strip(y=447),
        strip(y=462, h=14) + strip(y=448, h=14),
    ],
    ids=["small", "in the head", "in the foot", "a picture", "behind a line", "a picture in strips"],
)
def test_other_pictures_are_not_taken_for_letters(tmp_path: Path, picture: bytes) -> None:
    assert told(model_of(tmp_path, STEPS + picture)) == []


def test_a_page_with_a_strip_alone_is_not_blank(tmp_path: Path) -> None:
    made_pdf(tmp_path / "manual.pdf", [Page(STEPS), Page(strip(y=300))])
    machine = read_files([tmp_path / "manual.pdf"]).machine
    assert [page.state for page in machine.pages] == ["read", "unexplained"]


def test_a_strip_on_every_page_is_a_decoration(tmp_path: Path) -> None:
    sections = (b"4.2 Opening the gearcase", b"4.3 Closing the cover", b"4.4 Filling up")
    pages = [Page(STEPS.replace(sections[0], section) + strip()) for section in sections]
    made_pdf(tmp_path / "manual.pdf", pages)
    assert told(read_files([tmp_path / "manual.pdf"]).machine) == []
