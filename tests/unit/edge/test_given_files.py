"""Slips when naming files: told as what they are, with what to type instead."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from lastbolt.cli.main import main
from lastbolt.edge.given_files import MOST_LOOKED_AT, files_given
from lastbolt.words.problem import Refusal

PARTS = "Item;Name;Qty;Part no.\n1;Screw M6 x 45;7;A-1\n2;Cover;1;A-2\n"


def refused(path: Path) -> tuple[str, str, str]:
    with pytest.raises(Refusal) as caught:
        files_given([path])
    problem = caught.value.problems[0]
    return problem.code, problem.what, problem.do


def parts(path: Path, text: str = PARTS) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


def test_a_folder_of_pdfs_and_tables_asks_for_the_files_by_name(tmp_path: Path) -> None:
    (tmp_path / "my manual.pdf").write_bytes(b"%PDF-1.4")
    parts(tmp_path / "parts.csv")
    code, what, do = refused(tmp_path)
    assert (code, "2 files" in what) == ("LB-F02", True)
    assert f'"{tmp_path / "my manual.pdf"}"' in do
    assert "XML" not in do


def test_a_folder_with_a_module_is_left_to_the_reader_of_modules(tmp_path: Path) -> None:
    parts(tmp_path / "parts.csv")
    (tmp_path / "one.XML").write_text("<task/>", encoding="utf-8")
    assert files_given([tmp_path]) == ([tmp_path], ())


def test_a_folder_of_very_many_files_is_not_walked_to_its_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    walked = 0

    def endless(folder: Path, pattern: str) -> Iterator[Path]:
        nonlocal walked
        while walked < 10 * MOST_LOOKED_AT:
            walked += 1
            yield folder / f"{walked}.bin"

    monkeypatch.setattr(Path, "rglob", endless)
    assert files_given([tmp_path]) == ([tmp_path], ())
    assert walked == MOST_LOOKED_AT + 1


def test_an_empty_folder_has_nothing_to_read(tmp_path: Path) -> None:
    assert refused(tmp_path)[0] == "LB-X04"


def test_a_model_given_to_read_is_told_with_the_command_to_use_it(tmp_path: Path) -> None:
    model = tmp_path / "m.json"
    assert main(["read", str(parts(tmp_path / "parts.csv")), "--out", str(model)]) in (0, 1)
    code, what, do = refused(model)
    assert (code, '"lastbolt.model/1"' in what) == ("LB-D03", True)
    assert "--model m.json" in do


def test_the_same_file_twice_is_read_once_and_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    one, copy = parts(tmp_path / "parts.csv"), parts(tmp_path / "copy.csv")
    other = parts(tmp_path / "other.csv", PARTS.replace("7", "8"))
    files, told = files_given([one, one, copy, other])
    assert files == [one, other]
    assert [problem.code for problem in told] == ["LB-F16", "LB-F16"]
    assert "as parts.csv: the same bytes" in told[1].what
    main(["read", str(one), str(one), "--out", str(tmp_path / "m.json")])
    assert "was given twice" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("name", ["nosuch.pdf", "nosuch.csv", "nosuch.xlsx"])
def test_a_file_that_is_not_there_is_told_as_that(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["read", str(tmp_path / name), "--out", str(tmp_path / "m.json")]) == 2
    assert capsys.readouterr().err.startswith("LB-F01  There is no such file.")


@pytest.mark.parametrize(
    ("content", "code", "says"),
    [
        (b"%PDF-1.7\n\xff\xfe", "LB-D03", "This is a PDF"),
        (b"PK\x03\x04rest", "LB-D03", "spreadsheet"),
        (b'{"schema": "lastbolt.model/1", "name": ', "LB-D02", "breaks off"),
        (b"", "LB-D02", "empty"),
        (b'{"schema": x}', "LB-D02", "This is no JSON document"),
    ],
)
def test_another_file_as_model(
    content: bytes, code: str, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "given"
    file.write_bytes(content)
    assert main(["plan", "4.2", "--model", str(file)]) == 2
    said = capsys.readouterr().err
    assert said.startswith(code)
    assert says in said
    assert "truncated" not in said
