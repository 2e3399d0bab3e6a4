"""`lastbolt selfcheck`: plain words, what is missing and how to have it; scans are no must."""

import json
import sys
from pathlib import Path

import pytest

from lastbolt.cli import selfcheck
from lastbolt.cli.main import main
from lastbolt.edge import scan_letters


def test_every_part_is_tried_and_works(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["selfcheck"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "Read PDF manuals" in said
    assert "Read scanned pages" in said


def test_a_part_that_fails_is_named_and_the_rest_is_tried(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken() -> str:
        raise OSError("no paper")

    others = tuple((name, check) for name, check in selfcheck.CHECKS if name != "Print the report")
    monkeypatch.setattr(selfcheck, "CHECKS", (("Print the report", broken), *others))
    assert main(["selfcheck", "--json"]) == 2
    found = {part["part"]: part for part in json.loads(capsys.readouterr().out)}
    assert not found["Print the report"]["works"]
    assert "no paper" in found["Print the report"]["says"]
    assert found["Read PDF manuals"]["works"]


def test_without_the_reader_of_scans_it_says_how_to_have_it(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    version = selfcheck._version
    monkeypatch.setattr(selfcheck, "_version", lambda name: "" if name == "tesserocr" else version(name))
    assert main(["selfcheck"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "tesserocr missing" in said
    assert "lastbolt[scan]" in said
    assert "Everything that is needed works." in said


def test_letters_are_found_in_the_environment_first_and_else_outside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    inside, outside = tmp_path / "env", tmp_path / "elsewhere"
    for folder in (inside / "share" / "tessdata", outside):
        folder.mkdir(parents=True)
    monkeypatch.setattr(sys, "prefix", str(inside))
    monkeypatch.setattr("site.getuserbase", lambda: str(tmp_path / "user"))
    monkeypatch.setattr(scan_letters, "_SYSTEM", ())
    monkeypatch.setenv("TESSDATA_PREFIX", str(outside))
    assert scan_letters.letters_folder() is None
    (outside / scan_letters.LETTERS).write_bytes(b"x")
    assert scan_letters.letters_folder() == outside
    assert not scan_letters.in_environment(outside)
    (inside / "share" / "tessdata" / scan_letters.LETTERS).write_bytes(b"x")
    assert scan_letters.letters_folder() == inside / "share" / "tessdata"


def test_letters_that_are_missing_are_told(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    pytest.importorskip("tesserocr")
    monkeypatch.setattr(scan_letters, "letters_folder", lambda: None)
    assert main(["selfcheck", "--json"]) == 0
    found = {part["part"]: part for part in json.loads(capsys.readouterr().out)}
    assert "letters are missing" in found["Read scanned pages (pictures)"]["says"]
