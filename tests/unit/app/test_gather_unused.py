"""A joint that is clear, and one thing said wrongly of it: it is told, and the joint is clear no more.

The cases are those of an attack on the JSON files; the joint is invented (three screws, two people).
"""

import json
from typing import Any

import msgspec
import pytest

from lastbolt.app.gather import gather
from lastbolt.app.gather_documents import Documents
from lastbolt.app.tally_joint import tally_joint
from lastbolt.edge.strange_fields import strange_fields
from lastbolt.words.answer import Answer
from lastbolt.words.engine import Engine
from lastbolt.words.job import Job
from lastbolt.words.joint import Walk
from lastbolt.words.machine import Machine

M6 = {"what": "screw", "thread": "M6", "length_mm": 45}
Json = dict[str, Any]
MODEL: Json = {
    "schema": "lastbolt.model/1",
    "name": "x",
    "sources": [{"id": "p", "title": "List", "role": "parts list", "lineage": "L"}],
    "figures": [{"id": "f1", "number": "1", "title": "Case", "source": "p", "parts_figure": True}],
    "rows": [
        {
            "id": "r1", "source": "p", "figure": "f1", "item": "1", "part_number": "1", "name": "SCREW",
            "quantity": {"kind": "exactly", "low": 3, "high": 3}, "kind": M6,
        }
    ],
}  # fmt: skip


def walk(joint: str = "j", **more: object) -> Json:
    places = [{"id": name, "label": name, "kind": M6, "lines": ["r1"]} for name in "123"]
    ties = [{"line": "r1", "wholly": True, "places": ["1", "2", "3"]}]
    bracket = {"id": "h1", "sort": "bridging part", "name": "bracket", "settled": True, "how": "off"}
    made = {"schema": "lastbolt.walk/1", "joint": joint, "name": joint, "places": places, "ties": ties}
    return {**made, "holders": [bracket], **more}


def round_by(by: str, round_by: str | None = None, event: str = "e1") -> Json:
    answers = [{"place": name, "saw": ["out"]} for name in "123"]
    inner = {"id": "R", "by": by if round_by is None else round_by, "guided": True, "complete": True}
    return {
        "event": "went round",
        "id": event,
        "by": by,
        "joint": "j",
        "round": {**inner, "answers": answers},
    }


def count_by(by: str, event: str = "e2", **more: object) -> Json:
    return {"event": "counted", "id": event, "by": by, "joint": "j", "kind": M6, "pieces": 3, **more}


def looked(place: str = "3", saw: tuple[str, ...] = ("in",), event: str = "e3", joint: str = "j") -> Json:
    answers = [{"place": place, "saw": list(saw)}]
    return {"event": "looked", "id": event, "by": "Cid", "joint": joint, "answers": answers}


def settled(holder: str, how: str = "cut") -> Json:
    return {"event": "holder settled", "id": "e3", "by": "A", "joint": "j", "holder": holder, "how": how}


def undone(undoes: str, event: str = "e9") -> Json:
    return {"event": "undone", "id": event, "by": "Cid", "undoes": undoes}


SAID = (round_by("Ann"), count_by("Ben"))


def job(*more: Json, said: tuple[Json, ...] = SAID, **other: Any) -> Json:
    return {"schema": "lastbolt.job/1", "id": "job", "goal": "", "events": [*said, *more], **other}


def engine(*facts: Json, **other: object) -> Json:
    return {"schema": "lastbolt.engine/1", "id": "no3", "name": "no. 3", "as_found": list(facts), **other}


def answer(
    job_file: Json,
    *,
    walks: tuple[Json, ...] = (walk(),),
    engine_file: Json | None = None,
    listed: int = 3,
    rows: tuple[Json, ...] = (),
    goal: Json | None = None,
) -> Answer:
    """The answer from these files, their strange fields told as the command does."""
    files: list[tuple[Json, type, str]] = [(one, Walk, "walk") for one in walks] + [(job_file, Job, "job")]
    files += [(engine_file, Engine, "engine")] if engine_file else []
    (first,) = MODEL["rows"]
    own = {**first, "quantity": {"kind": "exactly", "low": listed, "high": listed}}
    model = {**MODEL, "rows": [own, *rows], "procedures": [goal] if goal else []}
    goals = (goal["id"],) if goal else ()
    raw = [(json.dumps(value).encode(), kind, called) for value, kind, called in files]
    strange = tuple(field for one in raw for field in strange_fields(*one))
    gathered = gather(
        Documents(
            msgspec.convert(model, Machine),
            msgspec.convert(engine_file, Engine) if engine_file else None,
            tuple(msgspec.json.decode(text, type=Walk) for text, kind, _ in raw if kind is Walk),
            msgspec.json.decode(json.dumps(job_file), type=Job),
            closure=goals,
            goals=goals,
            strange=strange,
        )
    )
    return tally_joint(gathered.evidence, gathered.beside)


def codes(said: Answer) -> set[str]:
    return {problem.code for problem in said.problems}


def test_the_joint_itself_is_clear() -> None:
    said = answer(job())
    assert (said.clear_to_part, said.problems, said.unused) == (True, (), ())


@pytest.mark.parametrize(
    ("code", "files"),
    [
        ("LB-T21", job(looked(""))),
        ("LB-T21", job(looked("  "))),
        ("LB-T21", job(looked("3", ()))),
        ("LB-T21", job(count_by("Cid", "e3", kind={}, pieces=2))),
        ("LB-T21", job(count_by("Cid", "e3", kind={}, pieces=2, line="zzz"))),
        ("LB-T21", job(count_by("Cid", "e3", pieces=-1))),
        ("LB-T21", job(settled("h1", " "))),
        ("LB-T22", job(looked(joint="J"))),
        ("LB-T22", job(looked(joint="another"))),
        ("LB-T23", job(looked("2", ("out",)), looked("3"), undone("e3"))),
        ("LB-T24", job(undone("e3", "e0"), looked())),
        ("LB-T24", job(looked(), looked("2"), undone("e3"))),
        ("LB-T24", job(undone("e9"))),
        ("LB-T11", job(undone("e7"))),
        ("LB-T11", job(settled("no such"))),
        ("LB-T09", job({"event": "step done", "id": "e3", "by": "A", "step": "no such"})),
        ("LB-T26", job(said=(round_by("Ann", "Ben"), count_by("Ann")))),
        ("LB-T27", job({"event": "took out", "id": "e3", "by": "A", "joint": "j", "count": 10**8})),
        ("LB-T28", job(looked("03", ("out",)))),
        ("LB-T20", job(said=(round_by("Ann"), count_by("Ben", complete_peices=False)))),
        ("LB-T20", job(evnts=[])),
    ],
)  # fmt: skip
def test_what_cannot_be_used_is_told_and_nothing_is_free(code: str, files: Json) -> None:
    said = answer(files)
    assert code in codes(said)
    assert (said.clear_to_part, said.verdict == "free") == (False, False)
    assert said.sentence.startswith(("Not shown", "Do not pull"))


@pytest.mark.parametrize("place", ["1", "2"])
def test_two_places_under_one_id_are_told(place: str) -> None:
    places = [{"id": name, "label": f"{name} {number}", "kind": M6} for number, name in enumerate(place * 2)]
    said = answer(job(), walks=(walk(places=places),))
    assert ("LB-T23" in codes(said), said.clear_to_part) == (True, False)


def test_a_tie_to_a_row_of_no_list_is_told() -> None:
    said = answer(job(), walks=(walk(ties=[{"line": "zzz", "wholly": True}]),))
    assert ("LB-T11" in codes(said), said.clear_to_part) == (True, False)


def test_events_of_a_joint_that_was_walked_too_are_only_noted() -> None:
    other = job(looked(joint="k"), looked("1", ("out",), "e4", "k"))
    said = answer(other, walks=(walk(), walk("k")))
    assert (codes(said), said.clear_to_part) == ({"LB-T08", "LB-T10"}, True)


def test_a_strange_field_of_another_joints_event_is_only_told() -> None:
    elsewhere = {**looked("1", joint="k"), "wrods": "x"}
    said = answer(job(elsewhere), walks=(walk(), walk("k")))
    assert ("LB-T20" in codes(said), said.clear_to_part) == (True, True)


def test_remarks_of_other_programs_are_no_strange_fields() -> None:
    said = answer({**job(x_device_model="y"), "$schema": "job-1.json"})
    assert (said.problems, said.clear_to_part) == ((), True)


def test_a_field_given_twice_is_strange() -> None:
    raw = b'{"schema": "lastbolt.job/1", "id": "a", "goal": "", "events": [1], "events": []}'
    (field,) = strange_fields(raw, Job, "job")
    assert (field.field, field.twice, field.thing) == ("events", True, "the job itself")


def test_a_strange_field_is_named_with_its_thing_and_what_it_looks_like() -> None:
    (field,) = strange_fields(
        json.dumps(job(count_by("Cid", "e3", complete_peices=False))).encode(), Job, "job"
    )
    assert (field.thing, field.field, field.meant) == ('events "e3"', "complete_peices", "complete_pieces")


# ---- the engine's own file ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    "fact",
    [
        {"what": "extra", "words": "a hidden fourth screw behind the boss"},
        {"what": "extra", "words": "a screw at 9", "place": "9"},
        {"what": "extra", "words": "a screw", "line": "no such row"},
        {"what": "missing", "words": "none there, nobody knows of what"},
        {"what": "missing", "words": "five of three", "line": "r1", "count": 5},
        {"what": "missing", "words": "minus one", "line": "r1", "count": -1},
    ],
)
def test_a_fact_that_no_count_uses_is_told_and_nothing_is_free(fact: Json) -> None:
    said = answer(job(), engine_file=engine(fact))
    assert ("LB-T06" in codes(said), said.clear_to_part) == (True, False)


def test_an_extra_screw_with_its_size_is_counted_and_its_place_looked_for() -> None:
    fact = {"what": "extra", "words": "a fourth screw", "place": "9", "kind": M6, "by": "Dee"}
    said = answer(job(), engine_file=engine(fact))
    assert [place.label for place in said.places] == ["1", "2", "3", "9"]
    assert (said.clear_to_part, "LB-T06" in codes(said)) == (False, False)


def test_a_fact_of_another_joints_place_is_none_of_this_one() -> None:
    there = walk("k", places=[{"id": "k9", "label": "9"}])
    fact = {"what": "missing", "words": "none at 9 of k", "place": "k9"}
    said = answer(job(), walks=(walk(), there), engine_file=engine(fact))
    assert (said.clear_to_part, codes(said)) == (True, {"LB-T10"})


def test_what_the_file_says_in_words_alone_holds_until_somebody_settles_it() -> None:
    fact = {"what": "other", "words": "a stud was welded into both halves at 2", "place": "2"}
    said = answer(job(), engine_file=engine(fact))
    (welded,) = [holder for holder in said.holders if holder.name == fact["words"]]
    assert (welded.settled, said.clear_to_part) == (False, False)
    assert answer(job(settled(welded.id)), engine_file=engine(fact)).clear_to_part


def test_the_job_of_another_engine_is_told() -> None:
    assert "LB-T25" in codes(answer(job(engine="other engine"), engine_file=engine()))
    assert "LB-T25" in codes(answer(job(variant="H"), engine_file=engine(variant="K")))
    assert answer(job(engine="No3 "), engine_file=engine()).clear_to_part


# ---- rounds, rows and steps that were lost -----------------------------------------------------------


def test_a_round_that_leaves_a_place_out_is_not_complete() -> None:
    whole = round_by("Ann")
    answers = whole["round"]["answers"]
    part = {**whole, "round": {**whole["round"], "answers": answers[:2]}}
    out = {"event": "took out", "id": "e0", "by": "Ann", "joint": "j", "places": ["3"]}
    said = answer(job(out, said=(part, count_by("Ben"))))
    assert ("LB-T30" in codes(said), said.clear_to_part) == (True, False)
    unseen = {
        **whole,
        "round": {**whole["round"], "answers": [*answers[:2], {"place": "3", "saw": ["cannot see"]}]},
    }
    assert "LB-T30" not in codes(answer(job(out, said=(unseen, count_by("Ben")))))


def row(**more: Any) -> Json:
    (first,) = MODEL["rows"]
    return {**first, "id": "r9", "item": "9", "quantity": {"kind": "exactly", "low": 2, "high": 2}, **more}


def test_a_row_that_somebody_ties_is_kept_whatever_variant_the_papers_say() -> None:
    for_b = row(applies={"variants": ["B"]})
    ties = [*walk()["ties"], {"line": "r9", "wholly": True}]
    said = answer(job(variant="Model B"), walks=(walk(ties=ties),), rows=(for_b,))
    assert "r9" in {taken.line for taken in said.taken_as}
    assert not said.clear_to_part


def parting(count: int, kind: Json) -> Json:
    removal = {"name": "screws", "deed": "remove", "kind": kind}
    removal["quantity"] = {"kind": "exactly", "low": count, "high": count}
    step = {"id": "s1", "mark": "1", "words": "Remove them.", "deeds": ["remove"], "mentions": [removal]}
    return {"id": "g", "number": "5.1", "title": "Separate", "deed": "separate", "steps": [step]}


M8 = {"what": "screw", "thread": "M8", "length_mm": 70}


def test_what_the_parting_step_removes_by_size_alone_is_the_joints_own_row_of_that_size() -> None:
    assert not answer(job(), goal=parting(4, M6)).clear_to_part
    ticked = job({"event": "step done", "id": "e3", "by": "Ann", "step": "s1", "looked": True})
    assert answer(ticked, goal=parting(3, M6)).clear_to_part


def test_what_the_parting_step_removes_and_no_list_has_is_a_line_of_its_own() -> None:
    said = answer(job(), goal=parting(2, M8))
    assert not said.clear_to_part
    assert any("2 x screw M8x70" in taken.pieces for taken in said.taken_as)


def test_a_size_that_several_rows_have_asks_which_is_meant() -> None:
    said = answer(job(), goal=parting(2, M8), rows=(row(kind=M8), row(id="r10", item="10", kind=M8)))
    assert ("LB-T29" in codes(said), said.clear_to_part) == (True, False)
    one = answer(job(), goal=parting(2, M8), rows=(row(kind=M8),))
    assert ("LB-T29" in codes(one), one.clear_to_part) == (False, False)


def test_twenty_thousand_places_are_taken_for_a_slip() -> None:
    many = [{"event": "looked", "id": "e3", "by": "Cid", "joint": "j", "answers": [
        {"place": f"q{number}", "saw": ["out"]} for number in range(20_000)
    ]}]  # fmt: skip
    gathered = answer(job(*many, said=()))
    assert ("LB-T27" in codes(gathered), gathered.clear_to_part) == (True, False)


# ---- one person, however written ---------------------------------------------------------------------


@pytest.mark.parametrize(("one", "other"), [("Ann", "ann"), ("Ann", " Ann"), ("", " ")])
def test_one_person_in_two_spellings_is_one_witness(one: str, other: str) -> None:
    twice = answer(job(said=(round_by(one), count_by(other))))
    once = answer(job(said=(round_by(one), count_by(one))))
    assert twice.mistakes_if_held == once.mistakes_if_held == 1
    assert not twice.clear_to_part


@pytest.mark.parametrize(("by", "mistakes"), [("Ann", 1), ("ann ", 1), ("Dee", 2)])
def test_who_wrote_the_engine_file_and_walked_is_one_witness(by: str, mistakes: int) -> None:
    gone = {"what": "missing", "words": "one was never there", "line": "r1", "by": by}
    said = answer(job(), engine_file=engine(gone), listed=4)
    assert said.mistakes_if_held == mistakes


@pytest.mark.parametrize(
    "events",
    [
        (looked("1 ", ("out",)),),
        (looked(" 01", ("out",)),),
        (looked("77", ("out",)), looked("77 ", ("out",), "e4")),
        (looked("a7", ("out",)), looked("A7", ("out",), "e4")),
    ],
)
def test_places_that_differ_by_spaces_zeros_or_case_only_are_told(events: tuple[Json, ...]) -> None:
    said = answer(job(*events))
    assert ("LB-T28" in codes(said), said.clear_to_part) == (True, False)


def test_a_place_that_goes_by_the_label_of_another_is_told() -> None:
    places = [{"id": f"p{name}", "label": name, "kind": M6, "lines": ["r1"]} for name in "123"]
    ties = [{"line": "r1", "wholly": True, "places": ["p1", "p2", "p3"]}]
    walked = walk(places=places, ties=ties)
    told = [problem.what for problem in answer(job(), walks=(walked,)).problems if problem.code == "LB-T28"]
    assert told[0] == '"1" is the label of a place, and no place has it as its id.'
    assert len(told) == 3


def test_labels_that_differ_by_a_space_only_are_told_and_like_ones_are_not() -> None:
    places = [
        {"id": name, "label": label, "kind": M6} for name, label in zip("123", ("7", "7 ", "8"), strict=True)
    ]
    assert "LB-T28" in codes(answer(job(), walks=(walk(places=places),)))
    places = [{"id": name, "label": "7", "kind": M6} for name in "123"]
    assert "LB-T28" not in codes(answer(job(), walks=(walk(places=places),)))


@pytest.mark.parametrize(("low", "high"), [(10**8, 10**8), (3, 1000), (-1, -1)])
def test_a_row_with_more_pieces_than_can_be_is_told(low: int, high: int) -> None:
    (row,) = MODEL["rows"]
    quantity = {"kind": "exactly" if low == high else "range", "low": low, "high": high}
    model = {**MODEL, "rows": [{**row, "quantity": quantity}]}
    documents = Documents(
        msgspec.convert(model, Machine),
        None,
        (msgspec.convert(walk(), Walk),),
        msgspec.convert(job(), Job),
    )
    gathered = gather(documents)
    said = tally_joint(gathered.evidence, gathered.beside)
    assert codes(said) & {"LB-T21", "LB-T27"}
    assert not said.clear_to_part


@pytest.mark.parametrize("how", ["still bolted on", "not off", "off?", "?", "checked", "off and on again"])
def test_words_that_settle_no_holder_leave_it_open_and_are_told(how: str) -> None:
    said = answer(job(settled("h1", how), said=SAID))
    assert "LB-T31" in codes(said)
    assert how in next(state.words for state in said.holders if state.id == "h1")


def test_a_walk_that_calls_a_holder_settled_in_words_that_do_not_is_told() -> None:
    bracket = {"id": "h1", "sort": "bridging part", "name": "bracket", "settled": True, "how": "still bolted"}
    said = answer(job(), walks=(walk(holders=[bracket]),))
    assert ("LB-T31" in codes(said), said.clear_to_part) == (True, False)


def test_the_last_word_about_a_holder_counts() -> None:
    first = {**settled("h1", "off"), "id": "e7"}
    last = {**settled("h1", "on again"), "id": "e8"}
    assert not answer(job(first, last)).clear_to_part
    assert answer(job(last, first, said=SAID)).clear_to_part
