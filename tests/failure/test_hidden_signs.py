"""Control and format characters from any input reach no terminal, page, sheet or JSON that a person reads.

The lists of characters are Python's own copy of the Unicode Character Database (general categories Cc, Cf).
"""

import io
import json
import sys
import unicodedata
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from failure.made_pdf import Page, made_pdf, text_at
from failure.test_bad_json import ENGINE, JOB, MODEL, WALK, files, tally
from lastbolt.cli import keyboard, say
from lastbolt.cli.main import main
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.edge.plain_text import plain, plain_json
from lastbolt.edge.table_in import read_table
from lastbolt.words.page import PageLayout
from lastbolt.words.problem import Problem

EVIL = "a\x1b[31mb\u202ec\u200bd\u2066e\x07f\x9bg\U000e0041h"
SHOWN = "a\ufffd[31mbcde\ufffdf\ufffdgh"


def hidden(text: str) -> list[str]:
    """The control and format characters in the text, but for line ends and tabs."""
    return [
        f"U+{ord(sign):04X}"
        for sign in text
        if sign not in "\n\t" and unicodedata.category(sign) in ("Cc", "Cf", "Cs")
    ]


def run(capsys: pytest.CaptureFixture[str], words: Sequence[str]) -> tuple[int, str, str]:
    code = main(words)
    out, err = capsys.readouterr()
    return code, out, err


def test_every_control_and_format_character_of_unicode() -> None:
    for point in (*range(0x20000), *range(0xE0000, 0xE1000), sys.maxunicode):
        sign, kept = chr(point), plain(f"M{chr(point)}8")
        category = unicodedata.category(sign)
        if sign in "\n\t" or category not in ("Cc", "Cf", "Cs", "Zl", "Zp"):
            assert kept == f"M{sign}8"
        else:
            assert hidden(kept) == []


@given(st.text())
def test_plain_text_stays_and_plain_twice_is_plain_once(text: str) -> None:
    assert hidden(plain(text)) == []
    assert plain(plain(text)) == plain(text)


@example("\r\n", False)
@example("\r\n\r \n", True)
@given(st.text(st.characters(exclude_categories=["Cs"])), st.booleans())
def test_a_json_text_says_the_same_however_its_signs_are_written(text: str, escaped: bool) -> None:
    raw = json.dumps({"x": text}, ensure_ascii=escaped).encode()
    assert json.loads(plain_json(raw)) == {"x": plain(text)}


def evil_files(folder: Path, escaped: bool = True) -> dict[str, Path]:
    """Documents with the signs in every text that people are shown, ids included."""
    walk = json.loads(
        json.dumps(WALK).replace('"label": "1"', '"label": "1 EVIL"').replace("case", "case EVIL")
    )
    job = json.loads(json.dumps(JOB).replace("Ann", "Ann EVIL").replace('"e1"', '"e1 EVIL"'))
    nowhere = {"event": "looked", "id": "e2 EVIL", "by": "EVIL", "joint": "nowhere EVIL", "answers": []}
    job["events"].append(nowhere)
    job["odd EVIL"] = 1
    model = json.loads(json.dumps(MODEL).replace("Lift", "EVIL Lift").replace("cover", "cover EVIL"))
    engine = {**ENGINE, "name": "EVIL", "as_found": [{"what": "other", "words": "EVIL dent"}]}
    evil = json.dumps(EVIL, ensure_ascii=escaped)[1:-1]
    values = {"model": model, "walk": walk, "job": job, "engine": engine}
    return files(folder, **{name: json.dumps(v).replace("EVIL", evil).encode() for name, v in values.items()})


@pytest.mark.parametrize("escaped", [True, False])
@pytest.mark.parametrize("more", [(), ("--json",)])
def test_documents(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], more: tuple[str, ...], escaped: bool
) -> None:
    _, out, err = run(capsys, tally(evil_files(tmp_path, escaped), *more, "--goal", "4"))
    assert SHOWN in out
    assert hidden(out + err) == []


@pytest.mark.parametrize("more", [(), ("--json",)])
def test_a_wrong_value_is_quoted_plainly(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], more: tuple[str, ...]
) -> None:
    wrong = {**ENGINE, "id": EVIL, "as_found": [{"what": EVIL, "words": EVIL}]}
    given_ = files(tmp_path, engine=json.dumps(wrong).encode())
    _, out, err = run(capsys, tally(given_, *more))
    assert "LB-D04" in out + err
    assert hidden(out + err) == []


def test_a_plan_with_a_goal_typed_so_and_a_file_named_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model = str(evil_files(tmp_path)["model"])
    for words in (
        ("plan", f"4{EVIL}", "--model", model),
        ("plan", "4", "--model", model),
        ("plan", "4", "--model", model, "--why", f"1{EVIL}"),
        ("plan", "4", "--model", f"{model}{EVIL}\udcff"),
    ):
        for more in ((), ("--json",)):
            _, out, err = run(capsys, (*words, *more))
            assert hidden(out + err) == []
            (out + err).encode()


def test_report(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    given_ = evil_files(tmp_path)
    words = [word for name, path in given_.items() for word in (f"--{name}", str(path))]
    _, out, err = run(capsys, ("report", "4", *words, "--out", str(tmp_path / "out")))
    assert hidden(out + err) == []
    html = (tmp_path / "out" / "report.html").read_text(encoding="utf-8")
    assert SHOWN in html
    assert hidden(html) == []
    pages = [
        item
        for item in read_pages(tmp_path / "out" / "report.pdf", PdfSettings())
        if isinstance(item, PageLayout)
    ]
    assert hidden(" ".join(word.text for page in pages for word in page.words)) == []


def test_typed_lines(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "joint.txt"
    path.write_text(f"2 x M6\u200bx45\nby Ann{EVIL}\n1-2 out\n{EVIL}\n\u202e3 out\n", encoding="utf-8")
    for more in ((), ("--json",)):
        _, out, err = run(capsys, ("tally", "--typed", str(path), *more))
        assert "M6x45" in out
        assert hidden(out + err) == []


def test_lines_at_the_keyboard(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = iter([f"2 x M6x45{EVIL}", "", ""])
    monkeypatch.setattr("builtins.input", lambda _: next(lines))
    monkeypatch.setattr(keyboard, "somebody_there", lambda: True)
    path = tmp_path / f"joint{EVIL}.txt"
    main(["tally", "--typed", str(path)])
    out, err = capsys.readouterr()
    assert hidden(out + err) == []
    assert hidden(path.read_text(encoding="utf-8")) == []


def test_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / f"list{EVIL}.csv"
    path.write_text(f"item,part no.,description,qty\n1,K-1,Screw {EVIL},\u202e2\n", encoding="utf-8")
    assert read_table(path).sheet.rows[0].cells == ("1", "K-1", f"Screw {SHOWN}", "2")
    for more in ((), ("--json",)):
        code, out, err = run(capsys, ("read", str(path), "--out", str(tmp_path / "m.json"), *more))
        assert code in (0, 1)
        assert hidden(out + err) == []
        model = (tmp_path / "m.json").read_text(encoding="utf-8")
        assert hidden("".join(map(str, json.loads(model)["rows"]))) == []
        assert SHOWN in model


def test_pdf(tmp_path: Path) -> None:
    """Glyphs named uni202E and so on (Adobe Glyph List Specification, section 2) are these characters."""
    font = "/Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding << /Differences "
    font += "[65 /uni202E /uni200B /uni2066 /uniFEFF] >>"
    path = made_pdf(tmp_path / "m.pdf", [Page(text_at(50, 500, "ADscrew M6BxA45 C of 2"))], font=font)
    pages = [page for page in read_pages(path, PdfSettings()) if isinstance(page, PageLayout)]
    assert [word.text for page in pages for word in page.words] == ["screw", "M6x45", "of", "2"]


def test_a_problem_is_printed_plainly() -> None:
    out = io.StringIO()
    say.problem(Problem("LB-X00", EVIL, EVIL, EVIL), out)
    assert hidden(out.getvalue()) == []
    assert out.getvalue().count(SHOWN) == 3
