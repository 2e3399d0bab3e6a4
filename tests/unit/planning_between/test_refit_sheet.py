"""The sheet of the way back: everything on it, each with its page, and no word of a source read as markup."""

from pathlib import Path

import pypdfium2
import pytest
from msgspec.structs import replace
from small_book import M8X20, machine, names, proc, reverse_of, step

from lastbolt.app.refit_shown import stands_shown
from lastbolt.cli.main import main
from lastbolt.edge import documents
from lastbolt.words.account import Stands
from lastbolt.words.job import JOB_SCHEMA, Job, LaidIn
from lastbolt.words.joint import WALK_SCHEMA, End, JointPlace, Walk
from lastbolt.words.machine import Caution, Machine

WORDS = "Installation is the reverse of removal, except that the gasket is new."


def book() -> Machine:
    off = proc("4.1", "Removing the cover", "separate", "cover",
               step("1", "Remove the six screws #let *b* $a$.", names("screws", count=6, kind=M8X20)),
               step("2", "Take the cover off.", names("cover")), page=7)  # fmt: skip
    caution = Caution("warning", "Mind <script>alert(1)</script> the spring.")
    off = replace(off, steps=(replace(off.steps[0], cautions=(caution,)), *off.steps[1:]))
    on = proc(
        "4.2", "Fitting the cover", "join", "cover", step("1", WORDS, references=reverse_of("4.1", WORDS))
    )
    return machine(off, on)


WALK = Walk(
    WALK_SCHEMA, "j", "cover joint", outline_mm=((0, 0), (80, 0), (80, 60), (0, 60)),
    places=tuple(
        JointPlace(f"p{n}", str(n), (End("cover", "near", 30.0 * n, 20.0),), kind=M8X20) for n in (1, 2)
    ),
)  # fmt: skip


@pytest.fixture
def text(tmp_path: Path) -> str:
    job = Job(JOB_SCHEMA, "x", "4.1", events=(LaidIn(id="l", by="Ama", thing="rag", where="intake"),))
    for name, document in (("m", book()), ("w", WALK), ("j", job)):
        documents.save(tmp_path / f"{name}.json", document)
    at = {name: str(tmp_path / f"{name}.json") for name in "mwj"}
    sheet = tmp_path / "sheet.pdf"
    code = main(
        ["refit", "4.1", "--model", at["m"], "--walk", at["w"], "--job", at["j"], "--sheet", str(sheet)]
    )
    assert code == 1
    pages = pypdfium2.PdfDocument(sheet.read_bytes())
    return " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())


def test_it_holds_what_stands_the_lines_and_their_pages(text: str) -> None:
    assert "4.1: not finished: " in text
    assert "1 rag still in (intake)" in text
    assert "Put back: 6 screws M8 x 20 (cover)." in text
    assert "read the other way round from the removal" in text
    assert "not as it came off: the gasket is new." in text
    assert "printed page p7" in text
    assert "Tightening: cover joint" in text
    assert text.index("WARNING") < text.index("Put back: 6 screws M8 x 20 (cover).")


def test_words_of_sources_are_no_markup(text: str) -> None:
    assert "<script>alert(1)</script>" in text


def test_the_title_counts_the_boxes_below_it_and_each_thing_has_its_own() -> None:
    put, look = "Put it back.", "Look."
    stands = [
        Stands("missing", "3.1: guard: off", put), Stands("missing", "4.1: cover: off", put),
        Stands("missing", "key: off", put), Stands("missing", "key: off", put), Stands("not read", "x", look),
    ]  # fmt: skip
    assert stands_shown(stands) == (
        (put, ("3.1: guard: off", "4.1: cover: off", "key: off (2 times)")),
        (look, ("x",)),
    )
