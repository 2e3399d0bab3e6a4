"""PDF files made to hurt, through the whole command: one clear problem, exit 1 or 2, nothing half-written.

A page that hurts stands between two good ones: what is on these must be read.
"""

import json
import time
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import typst

from failure.made_pdf import Page, locked_pdf, made_pdf, text_at, typeset_pdf
from failure.test_bad_pdf import grey_png
from lastbolt.cli.main import main
from lastbolt.edge import pdf_frames, pdf_in
from lastbolt.edge.pdf_frames import Limits
from lastbolt.words.page import PageLayout
from lastbolt.words.problem import Problem

COVER = Page(
    text_at(50, 560, "4 Cover", 18)
    + text_at(50, 530, "4.1 Removal of the cover", 14)
    + text_at(50, 500, "1. Remove the 2 screws M8x70.")
    + text_at(50, 480, "2. Lift off the cover.")
)
PUMP = Page(
    text_at(50, 560, "5 Pump", 18)
    + text_at(50, 530, "5.1 Removal of the pump", 14)
    + text_at(50, 500, "1. Lift off the pump.")
)
SLACK = 3
"""A loaded machine is slower."""
TIGHT = Limits(memory_MB=300, page_s=2.0, open_s=10.0)


@pytest.fixture(autouse=True)
def short_limits(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The command's own limits, made small, so that no test waits for the long ones; each under 10 s."""
    whole = pdf_in.PdfSettings
    set_so = {"limits": TIGHT, **({"scans": False} if "scans" in whole.__struct_fields__ else {})}
    monkeypatch.setattr(pdf_in, "PdfSettings", lambda **given: whole(**{**set_so, **given}))
    began = time.monotonic()
    yield
    assert time.monotonic() - began < 10 * SLACK


def read(path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, list[dict[str, Any]]]:
    """Read the file into a model beside it: exit code and problems."""
    code = main(["read", "--json", str(path), "--out", str(path.parent / "m.json")])
    out, err = capsys.readouterr()
    assert "Traceback" not in err
    return code, json.loads(out)["problems"]


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def packed(path: Path, content: bytes, layers: int) -> Path:
    """A PDF whose second page's content is compressed so many times (ISO 32000-1, 7.4.4, FlateDecode)."""
    for _ in range(layers):
        content = zlib.compress(content, 6)
    made_pdf(path, [COVER, Page(content), PUMP])
    plain = b"<< /Length %d >>\nstream\n" % len(content)
    filtered = b"<< /Length %d /Filter [%s] >>\nstream\n" % (len(content), b"/FlateDecode " * layers)
    raw = path.read_bytes()
    assert raw.count(plain) == 1
    path.write_bytes(raw.replace(plain, filtered))
    return path


def one_page_lost(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Page 2 is named, pages 1 and 3 are read, and no plan made of them is called complete."""
    code, problems = read(path, capsys)
    assert code == 1
    assert [problem["code"] for problem in problems] == ["LB-F10"]
    assert "PDF page 2" in problems[0]["where"]
    model = json.loads((path.parent / "m.json").read_text(encoding="utf-8"))
    assert [procedure["number"] for procedure in model["procedures"]] == ["4.1", "5.1"]
    states = [(page["pdf_page"], page.get("state", "read")) for page in model["pages"]]
    assert states == [(1, "read"), (2, "unexplained"), (3, "read")]
    code = main(["plan", "4.1", "--json", "--model", str(path.parent / "m.json")])
    plan = json.loads(capsys.readouterr().out)
    assert (code, plan["complete"]) == (1, False)
    assert "PDF page 2" in plan["open"][0]["words"]
    assert names(path.parent) == {path.name, "m.json"}


def test_the_good_pages_alone_are_read_without_a_doubt(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert read(made_pdf(tmp_path / "good.pdf", [COVER, PUMP]), capsys) == (0, [])


def test_400_000_tiny_texts(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tiny = b"BT /F1 0.1 Tf 20 580 Td " + b"(x) Tj 0.1 0 Td " * 400_000 + b"ET"
    one_page_lost(made_pdf(tmp_path / "tiny.pdf", [COVER, Page(tiny), PUMP]), capsys)


@pytest.mark.parametrize("unit", [b" ", b"q ", b"BT /F1 1 Tf 20 20 Td (x) Tj ET "])
def test_a_stream_that_unpacks_to_three_hundred_megabytes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], unit: bytes
) -> None:
    content = unit * (300_000_000 // len(unit))
    one_page_lost(packed(tmp_path / "bomb.pdf", content, 2), capsys)
    assert (tmp_path / "bomb.pdf").stat().st_size < 10_000


def test_truncated(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    whole = typeset_pdf(tmp_path / "cut.pdf", "= 4 Cover\nRemove the 2 screws.").read_bytes()
    (tmp_path / "cut.pdf").write_bytes(whole[: len(whole) // 2])
    (tmp_path / "m.json").write_bytes(b"")
    code, (problem,) = read(tmp_path / "cut.pdf", capsys)
    assert (code, problem["code"], problem["where"]) == (2, "LB-F07", str(tmp_path / "cut.pdf"))
    assert (tmp_path / "m.json").read_bytes() == b""
    assert names(tmp_path) == {"cut.pdf", "m.json"}


def test_locked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, (problem,) = read(locked_pdf(tmp_path / "locked.pdf"), capsys)
    assert (code, problem["code"]) == (2, "LB-F06")
    assert "password" in problem["what"]
    assert names(tmp_path) == {"locked.pdf"}


def test_a_bad_file_among_good_ones_leaves_nothing_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good = made_pdf(tmp_path / "good.pdf", [COVER, PUMP])
    bad = locked_pdf(tmp_path / "locked.pdf")
    code = main(["read", "--json", str(good), str(bad), "--out", str(tmp_path / "m.json")])
    (problem,) = json.loads(capsys.readouterr().out)["problems"]
    assert (code, problem["code"], problem["where"]) == (2, "LB-F06", str(bad))
    assert names(tmp_path) == {"good.pdf", "locked.pdf"}


def test_pictures_only(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Three scans, and no reader of scans installed."""
    (tmp_path / "scan.png").write_bytes(grey_png(60, 80))
    picture = '#image("scan.png", width: 100%, height: 100%)'
    source = tmp_path / "scan.typ"
    pages = "\n#pagebreak()\n".join([picture] * 3)
    source.write_text(f"#set page(width: 10cm, height: 15cm, margin: 0pt)\n{pages}", encoding="utf-8")
    typst.compile(str(source), output=str(tmp_path / "scan.pdf"))
    code, problems = read(tmp_path / "scan.pdf", capsys)
    codes = {problem["code"] for problem in problems}
    assert code == 1
    assert "LB-R13" in codes
    model = json.loads((tmp_path / "m.json").read_text(encoding="utf-8"))
    assert [page.get("state", "read") for page in model["pages"]] == ["unexplained"] * 3


def test_the_limits_that_people_have_are_wider_than_those_of_the_tests() -> None:
    assert Limits().memory_MB > TIGHT.memory_MB
    assert Limits().page_s > TIGHT.page_s
    assert Limits().memory_MB << 20 > pdf_frames.LARGEST_FRAME


def test_a_file_of_two_pages_that_claims_a_million_is_given_up(tmp_path: Path) -> None:
    file = made_pdf(tmp_path / "m.pdf", [Page(text_at(50, 500, "Remove the cover.")) for _ in range(2)])
    file.write_bytes(file.read_bytes().replace(b"/Count 2", b"/Count 1000000"))
    read = list(pdf_in.read_pages(file))
    problems = [one for one in read if isinstance(one, Problem)]
    assert len(problems) < 1000
    assert "LB-F11" in [one.code for one in problems]
    assert sum(isinstance(one, PageLayout) for one in read) == 2
