"""Sources without pages: a manual in Markdown, modules in XML; their lines stand where pages would."""

from pathlib import Path

import pytest

from lastbolt.cli.main import main
from web import Asking, desk_of

MANUAL = """# Winch manual

## 1.1 Making safe

1. Switch the winch off.

## 2.1 Separating the gearbox

1. Remove the cable drum (see 2.7).
2. Remove the six screws M8 x 45 and the cover.

| item | part | qty |
|---|---|---|
| 1 | Cover W90-114 | 1 |
"""


@pytest.fixture
def asking(tmp_path: Path) -> Asking:
    (tmp_path / "winch.md").write_text(MANUAL, encoding="utf-8")
    model = tmp_path / "winch.model.json"
    assert main(["read", "--json", str(tmp_path / "winch.md"), "--out", str(model)]) in (0, 1)
    return Asking(model, desk_of(model, "separate the gearbox"))


def test_a_fact_stands_at_its_line_and_the_line_leads_back(asking: Asking) -> None:
    fact = asking.get("api/list").json()["facts"][0]
    assert (fact["state"], fact["page"], fact["line"]) == ("open", 0, 9)
    shown = asking.get(f"api/lines?source=winch&line={fact['line']}").json()
    here = next(one for one in shown["lines"] if one["here"])
    assert here["words"] == "1. Remove the cable drum (see 2.7)."
    back = asking.get("api/list?source=winch&from=9&to=9").json()["facts"]
    assert fact["id"] in [one["id"] for one in back]


def test_its_words_are_found_at_their_lines(asking: Asking) -> None:
    assert [one["place"]["line"] for one in asking.get("api/search?q=M8x45").json()["hits"]] == [10]
    hits = asking.get("api/search?q=W90-114").json()["hits"]
    assert [one["place"]["line"] for one in hits] == [14]


def test_a_step_is_added_without_a_box(asking: Asking, capsys: pytest.CaptureFixture[str]) -> None:
    step = asking.fact("step", "cable drum")
    section = {"id": "winch/procedure/2.1", "words": "2.1 Separating the gearbox"}
    said = {
        "does": "step missing",
        "words": "Drain the oil.",
        "source": "winch",
        "behind": step["id"],
        "place": None,
    }
    answer = asking.say(section, **said)
    assert answer.status == 200, answer.body
    assert asking.fact("step", "Drain the oil.")["state"] == "put right"


def test_sources_without_pages_say_so(asking: Asking) -> None:
    assert [(one["id"], one["pages"], one["pictures"]) for one in asking.get("api/sources").json()] == [
        ("winch", 0, False)
    ]


def test_lines_go_on_by_their_turn(asking: Asking) -> None:
    shown = asking.get("api/lines?source=winch&at=2").json()
    assert shown["total"] == len(shown["lines"])
    assert next(one for one in shown["lines"] if one["here"])["at"] == 2
    assert asking.get("api/lines?source=nothing&line=3").json() == {"total": 0, "lines": []}
