"""The README's commands run as printed on the demo's files, and its links lead somewhere."""

import re
import shlex
from pathlib import Path

import pytest

from lastbolt.cli.main import main

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_links_lead_somewhere() -> None:
    links = [link for link in re.findall(r"\]\(([^)#]+)\)", README) if "://" not in link]
    assert links
    assert [link for link in links if not (ROOT / link).exists()] == []


def test_commands_run_as_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["demo", "--out", str(tmp_path / "out" / "demo")]) == 0
    monkeypatch.chdir(tmp_path / "out" / "demo")
    block = README.partition("    cd out/demo\n")[2].partition("\n\n")[0].replace("\\\n", " ")
    commands = [shlex.split(line) for line in block.splitlines() if line.strip()]
    assert [words[1] for words in commands] == ["read", "plan", "plan", "tally", "report"]
    for words in commands:
        assert main(words[1:]) in (0, 1), words
    said = capsys.readouterr()
    assert "Do not pull" in said.out
    assert "LB-D07" not in said.err, "the pages could be shown"
    assert (tmp_path / "out" / "demo" / "report" / "report.pdf").is_file()


def test_the_answer_shown_is_the_answer_given(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    typed = README.partition("    $ lastbolt tally\n")[2].partition("\n\n")[0]
    Path("joint.txt").write_text("\n".join(line.strip() for line in typed.splitlines()), encoding="utf-8")
    assert main(["tally", "--typed", "joint.txt"]) == 1
    told = " ".join(capsys.readouterr().out.split())
    shown = README.partition("tray 7 x M6x45\n\n")[2].partition("It goes on")[0]
    for line in (part for row in shown.splitlines() for part in row.split("...")):
        assert " ".join(line.split()) in told
