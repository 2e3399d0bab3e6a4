"""Every problem code that the program can say has a heading in docs/errors.md, and no heading is idle."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
CODE = re.compile(r"\"(LB-[A-Z]\d\d)\"")
HEADING = re.compile(r"^#+ (LB-[A-Z]\d\d)\b", re.M)


def test_codes_and_headings_are_in_step() -> None:
    said = {
        code
        for path in (ROOT / "src").rglob("*.py")
        for code in CODE.findall(path.read_text(encoding="utf-8"))
    }
    explained = HEADING.findall((ROOT / "docs" / "errors.md").read_text(encoding="utf-8"))
    assert sorted(said - set(explained)) == [], "no heading in docs/errors.md"
    assert sorted(set(explained) - said) == [], "a heading for a code nobody says"
    assert len(explained) == len(set(explained)), "a code explained twice"
