"""The server of the correcting page: what it shows, and that each correction stands in the file at once."""

import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main
from web import Asking, desk_of, read_book


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return read_book(tmp_path_factory.mktemp("book"))


@pytest.fixture
def model(made: Path, tmp_path: Path) -> Path:
    for name in ("winch.model.json", "winch.pdf", "list.csv"):
        (tmp_path / name).write_bytes((made.parent / name).read_bytes())
    return tmp_path / "winch.model.json"


@pytest.fixture
def asking(model: Path) -> Asking:
    return Asking(model)


def written(model: Path) -> list[dict[str, object]]:
    found: list[dict[str, object]] = json.loads(model.with_name("winch.corrections.json").read_text())[
        "corrections"
    ]
    return found


def test_what_keeps_the_goal_open_comes_first(asking: Asking) -> None:
    state = asking.get("api/state").json()
    assert state["sentence"] == "Separate the gearbox: 1 point open."
    first = asking.get("api/list").json()["facts"][0]
    assert (first["group"], first["sort"], first["state"]) == ("open", "reference", "open")
    assert "2.7" in first["words"]
    assert first["box"] is not None


def test_a_reference_put_right_completes_the_plan_and_is_on_disk(
    asking: Asking, model: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    fact = asking.fact("reference", "2.7")
    answer = asking.say(fact, does="leads to", to=["winch/procedure/2.3"], first=True)
    assert answer.status == 200, answer.body
    assert answer.json()["sentence"] == "Separate the gearbox: the plan is complete."
    assert written(model)[0]["does"] == "leads to"
    assert written(model)[0]["seen_at"]["place"]["pdf_page"] == fact["page"]  # type: ignore[index]
    assert main(["plan", "separate the gearbox", "--model", str(model)]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "Put right by people" in said
    assert "Ann, 20" in said
    assert "Remove the four nuts M10." in said


def test_a_step_added_a_step_that_is_none_and_both_in_the_plan(
    asking: Asking, model: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert asking.say(asking.fact("step", "Turn page"), does="not a step").status == 200
    steps = {one["words"]: one["id"] for one in asking.get("api/list?view=all&count=200").json()["facts"]}
    place = {"at": "pdf", "pdf_page": 2, "box": [0.1, 0.3, 0.8, 0.33]}
    section = {"id": "winch/procedure/2.1", "words": "2.1 Separating the gearbox"}
    answer = asking.say(
        section, does="step missing", words="Drain the oil.", mark="2a", source="winch", place=place,
        behind=steps["Remove the six screws M8 x 45 and the cover."],
    )  # fmt: skip
    assert answer.status == 200, answer.body
    assert main(["plan", "separate the gearbox", "--model", str(model)]) == 1
    said = " ".join(capsys.readouterr().out.split())
    checklist = said.partition("Checklist")[2]
    assert "Turn page for" not in checklist
    steps_said = ("Remove the six screws", "2a Drain the oil.", "Lift the cover off")
    assert [one for one in steps_said if one in checklist] == list(steps_said)
    assert sorted(steps_said, key=checklist.index) == list(steps_said)


def test_what_was_said_is_taken_back_by_a_further_line(asking: Asking, model: Path) -> None:
    asking.say(asking.fact("step", "Turn page"), does="not a step")
    state = asking.get("api/state").json()
    assert state["last"] == '"Turn page for the next section." is no step.'
    assert asking.post("api/undo", {"seen": state["seen"], "by": "Ben"}).status == 200
    assert [one["does"] for one in written(model)] == ["not a step", "withdrawn"]
    assert asking.fact("step", "Turn page")["state"] == "as read"
    state = asking.get("api/state").json()
    assert asking.post("api/undo", {"seen": state["seen"], "by": "Ben"}).status == 400, (
        "nothing is left to take back"
    )


def test_the_second_of_two_tabs_is_told_and_loses_nothing(asking: Asking, model: Path) -> None:
    other = Asking(model, desk_of(model))
    seen = asking.get("api/state").json()["seen"]
    fact = asking.fact("step", "Turn page")
    assert other.say(other.fact("step", "Lift the drum"), does="confirmed").status == 200
    body = {"fact": fact["id"], "saw": fact["words"], "by": "Ann", "does": "not a step", "seen": seen}
    answer = asking.post("api/save", body)
    assert answer.status == 409
    assert answer.json()["problem"]["code"] == "LB-K03"
    assert len(written(model)) == 1
    body["seen"] = asking.get("api/state").json()["seen"]
    assert asking.post("api/save", body).status == 200
    assert len(written(model)) == 2


def test_a_confirmed_doubt_and_a_row(asking: Asking, model: Path, capsys: pytest.CaptureFixture[str]) -> None:
    row = asking.fact("row", "W90-115")
    assert row["line"] == 3
    assert asking.get(f"api/lines?source={row['source']}&line=3").json()["lines"][1]["words"].endswith("6")
    assert asking.say(row, does="row reads", low=7, high=7).status == 200
    again = asking.fact("row", "W90-115")
    assert (again["state"], again["values"]["low"]) == ("put right", 7)
    assert "7 pieces" in again["said"]
    arguments = ["tally", "--json", "--model", str(model), "--goal", "separate the gearbox", "--typed"]
    typed = model.with_name("joint.txt")
    typed.write_text("by Ann\n1-7 out\n", encoding="utf-8")
    main([*arguments, str(typed)])
    answer = json.loads(capsys.readouterr().out)
    assert any(one["words"].startswith("put right by Ann") for one in answer["taken_as"])


@pytest.mark.parametrize(
    ("sort", "words", "said", "why"),
    [
        ("step", "Turn page", {"does": "row reads", "low": 1, "high": 1}, "of such a fact"),
        ("step", "Turn page", {"does": "step reads", "words": "x" * 5000}, "letters in one field"),
        ("step", "Turn page", {"does": "not a step", "by": "  "}, "name"),
        ("reference", "2.7", {"does": "leads to", "to": ["nowhere"]}, "no longer there"),
        ("reference", "2.7", {"does": "asks nothing"}, "no reason"),
        ("torque", "24", {"does": "torque reads", "low": "many"}, "cannot be taken"),
        ("step", "Turn page", {"does": "no such thing"}, "cannot be taken"),
        ("step", "Turn page", {"does": "withdrawn", "withdraws": "c1"}, "of such a fact"),
    ],
)
def test_what_cannot_be_taken_is_refused_and_nothing_is_written(
    asking: Asking, model: Path, sort: str, words: str, said: dict[str, object], why: str
) -> None:
    answer = asking.say(asking.fact(sort, words), **said)
    assert answer.status == 400
    problem = answer.json()["problem"]
    assert why in f"{problem['what']} {problem['do']}"
    assert not model.with_name("winch.corrections.json").exists()


def test_search_shows_each_place_on_its_page(asking: Asking) -> None:
    hits = asking.get("api/search?q=m8x45").json()["hits"]
    assert [hit["place"].get("pdf_page", 0) for hit in hits] == [2, 3, 0]
    assert len(hits[0]["boxes"]) == 3
    assert asking.get('api/search?q="W90-114"').json()["hits"][0]["found"] == "W90-114."


def test_the_words_in_a_drawn_box_are_offered(asking: Asking) -> None:
    fact = asking.fact("step", "Lift the drum off")
    box = ",".join(str(edge) for edge in fact["box"])
    words = asking.get(f"api/words?source=winch&page={fact['page']}&box={box}").json()["words"]
    assert words.endswith("Lift the drum off.")


def test_pages_are_drawn_once_and_not_sent_again(asking: Asking) -> None:
    first = asking.get("page/winch/2/small")
    assert (first.status, first.headers["content-type"]) == (200, "image/png")
    assert first.body[:4] == b"\x89PNG"
    again = asking.get("page/winch/2/small", if_none_match=first.headers["etag"])
    assert (again.status, again.body) == (304, b"")


def test_a_long_list_comes_in_portions(asking: Asking) -> None:
    whole = asking.get("api/list?view=all&count=200").json()
    part = asking.get("api/list?view=all&first=3&count=2").json()
    assert part["total"] == whole["total"] > 10
    assert part["facts"] == whole["facts"][3:5]


def test_read_again_with_other_words_an_orphan_is_shown_with_its_page(
    model: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from web import BOOK, write_book

    asking = Asking(model)
    assert asking.say(asking.fact("step", "Turn page"), does="not a step").status == 200
    assert asking.say(asking.fact("step", "Lift the drum"), does="confirmed").status == 200
    title, steps = BOOK[3]
    assert steps is not None
    book = [*BOOK[:3], (title, (*steps[:2], "3. Remove the brake lever.", steps[3])), *BOOK[4:]]
    write_book(model.parent / "winch.pdf", book)
    capsys.readouterr()
    main(["read", str(model.parent / "winch.pdf"), str(model.parent / "list.csv"), "--out", str(model)])
    said = " ".join(capsys.readouterr().out.split())
    assert "1 of 2 corrections that people made still fit" in said
    assert "LB-K01" in said
    first = Asking(model).get("api/list").json()["facts"][0]
    assert (first["group"], first["page"]) == ("orphan", 2)
    assert first["doubts"] == ['Other words stand there now: "Remove the brake lever."']
    assert main(["plan", "separate the gearbox", "--model", str(model)]) == 1
    assert "Remove the brake lever." in capsys.readouterr().out


def test_a_point_that_looking_cannot_settle_stays_open(asking: Asking) -> None:
    """Looking at words that lead nowhere does not make them lead anywhere."""
    state = asking.get("api/state").json()
    assert state["counts"]["open"] == 1
    fact = asking.fact("reference", "2.7")
    assert asking.say(fact, does="confirmed").status == 200
    after = asking.get("api/list").json()["facts"][0]
    assert (after["id"], after["state"]) == (fact["id"], "open"), "confirmed, it still leads nowhere"
    assert asking.get("api/state").json()["sentence"].endswith("1 point open.")
