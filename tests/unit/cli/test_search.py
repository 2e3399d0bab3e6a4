"""`lastbolt search` in the terminal: each place with its page, and what it cannot search."""

import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main
from web import read_book


@pytest.fixture(scope="module")
def model(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return read_book(tmp_path_factory.mktemp("searched"))


def test_each_place_with_its_page_and_its_words(model: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["search", "m8X45", "screws", "--model", str(model)]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert '"m8X45 screws": 2 places.' in said
    assert "PDF page 2: ... " in said
    assert "2. Remove the six [screws M8 x 45] and the cover." in said


def test_what_stands_nowhere_is_told(model: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["search", "turbine", "--model", str(model)]) == 1
    assert '"turbine" stands nowhere in these sources.' in " ".join(capsys.readouterr().out.split())


def test_without_the_files_the_model_is_searched_and_that_is_told(
    model: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["search", "--json", "W90-115", "--model", str(model), "--sources", str(tmp_path)]) == 0
    said = json.loads(capsys.readouterr().out)
    assert [one["code"] for one in said["problems"]] == ["LB-K05", "LB-K05"]
    assert said["hits"][0]["place"] == {"at": "cell", "line": 3, "column": "description"}


def test_a_file_of_that_name_that_is_another_is_not_searched(
    model: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "list.csv").write_text("item,part no.,description,qty\n1,X-9,Turbine,1\n", encoding="utf-8")
    assert main(["search", "turbine", "--model", str(model), "--sources", str(tmp_path)]) == 1
