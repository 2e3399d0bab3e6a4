"""What must not stand in the project: paths of a machine, package hosts, over-long files."""

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FORBIDDEN = re.compile(
    r"/wo"
    r"rk/|/fa"
    r"rm/|tran"
    r"script\b|seed doc"
    r"ument|pypi\."
    r"org|files\.python"
    r"hosted|registry\.npm"
)


def tracked() -> list[Path]:
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, capture_output=True, check=False, text=True,
    )  # fmt: skip
    if listed.returncode:
        pytest.skip("not a git checkout")
    return [ROOT / name for name in listed.stdout.split("\0") if name and (ROOT / name).is_file()]


def test_no_forbidden_words() -> None:
    found = []
    for path in tracked():
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        found += [f"{path.relative_to(ROOT)}: {m.group()}" for m in FORBIDDEN.finditer(text)]
    assert not found


def test_files_stay_of_one_subject() -> None:
    long = [
        f"{p.relative_to(ROOT)}: {n}"
        for p in tracked()
        if p.suffix == ".py" and (n := len(p.read_text(encoding="utf-8").splitlines())) > 400
    ]
    assert not long


def test_test_files_have_names_of_their_own() -> None:
    """Test folders are no packages: of two files with one name only the first is collected."""
    names = [p.name for p in tracked() if p.suffix == ".py" and p.name.startswith("test_")]
    assert not [name for name in dict.fromkeys(names) if names.count(name) > 1]
