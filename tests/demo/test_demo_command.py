"""The demo as a newcomer meets it: one command goes all the way; the README goes on from its files."""

from __future__ import annotations

import re
import shlex
import time
from pathlib import Path

import pytest

from lastbolt.cli.main import main

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
MADE = (
    "report.html",
    "report.pdf",
    "q222.model.json",
    "measured.pdf",
    "order.pdf",
    "way_back.pdf",
    "finished.pdf",
)
LONGEST_S = 15.0


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("shown") / "demo"


@pytest.fixture(scope="module")
def shown(folder: Path) -> str:
    """What the command says; it must be quick."""
    import contextlib
    import io

    said = io.StringIO()
    began = time.monotonic()
    with contextlib.redirect_stdout(said):
        assert main(["demo", "--out", str(folder)]) == 0
    assert time.monotonic() - began < LONGEST_S
    return " ".join(said.getvalue().split())


def test_every_step_of_the_job_is_told_in_its_order(shown: str) -> None:
    told = ("Do not pull", "Cleared", "Measured:", "To order:", "Shims", "The way back:", "Together again:")
    places = [shown.index(words) for words in told]
    assert places == sorted(places)
    assert "2 beyond the limit, 1 not decided" in shown


def test_every_file_named_is_there(folder: Path, shown: str) -> None:
    for name in MADE:
        assert str(folder / name) in shown
        assert (folder / name).stat().st_size > 1000


def test_commands_of_the_readme_run_on_its_files(
    folder: Path, shown: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(folder)
    part = README.partition("Apart, measured")[2].partition("`plan`, `measure`")[0].replace("\\\n", " ")
    commands = [shlex.split(line) for line in part.splitlines() if re.match(r"    lastbolt ", line)]
    assert {"measure", "order", "refit", "thread"} <= {words[1] for words in commands}
    assert main(["read", *(f"sources/{n}" for n in ("manual.pdf", "parts_list.pdf", "parts_list.csv")),
                 "--out", "pump.model.json"]) in (0, 1)  # fmt: skip
    for words in commands:
        assert main(words[1:]) in (0, 1), words
    assert "LB-" not in capsys.readouterr().err
