"""Plan, answer and page say what was put right and by whom; what the goal needs comes first."""

from msgspec.structs import replace

from lastbolt.app.correcting_shown import shown
from lastbolt.app.make_plan import make_plan
from lastbolt.app.put_right import facts_shown, put_right, rules
from lastbolt.app.put_right_shown import put_right_lines, put_right_taken
from lastbolt.words.corrections import (
    CORRECTIONS_SCHEMA,
    AsksNothing,
    Confirmed,
    Corrections,
    LeadsTo,
    RowReads,
)
from lastbolt.words.machine import Machine, Mention, PageSeen, PartsRow, PutRight
from lastbolt.words.quantity import UNSAID, exactly
from planned import machine, page, proc, ref, step

ROW = PartsRow(
    "l/row/1/1", "l", "1", "1", "K-1", "Screw", exactly(2), doubt="a blot", citations=page(5, "1 Screw 2")
)
OTHER = replace(ROW, id="l/row/1/2", item="2", citations=page(5, "2 Nut 2"))
SCREWS = Mention("screws", "remove", UNSAID, rows=("l/row/1/1",))
MADE = machine(
    proc(
        "9.1",
        step("1", ref("r1", status="dangling"), mentions=(SCREWS,)),
        before=(ref("r2", "3.3", status="doubtful"),),
    ),
    proc("3.3", "1"),
    proc("7.7", step("1", ref("r7", "3.3", status="doubtful", role="see"))),
    rows=(OTHER, ROW),
    pages=(PageSeen("m", 4, "4-4", "unexplained", why="a table"),),
)  # fmt: skip
LOOKED = Confirmed(
    id="c1", fact="r2", saw="see 3.3", by="Ann", at="2026-11-30T10:00",
    read_as="doubtful (before): 3.3 | doubtful (before): 3.3"
)  # fmt: skip
SEEN = Confirmed(
    id="c2", fact="m/page/4", saw="a table (file )", by="Ben", reason="colours only", read_as=" | a table"
)
LEADS = LeadsTo(id="c3", fact="r1", saw="see r1", by="Ann", to=("3.3",))
COUNT = RowReads(id="c4", fact="l/row/1/1", saw="1 Screw 2", by="Ann", low=3, high=3)


def righted(*said: object) -> Machine:
    result = put_right(MADE, Corrections(CORRECTIONS_SCHEMA, "", said))  # type: ignore[arg-type]
    assert result.orphans == ()
    return result.machine


def groups(goal: str, *said: object) -> list[tuple[str, str]]:
    result = put_right(MADE, Corrections(CORRECTIONS_SCHEMA, "", said))  # type: ignore[arg-type]
    plan = make_plan(result.machine, goal)
    facts = facts_shown(MADE, result, {line.procedure for line in plan.lines}, rules())
    return [(one.group, one.id) for one in shown(MADE, result, plan, facts).facts if one.group != "rest"]


def test_what_the_goal_needs_comes_first_then_the_doubtful() -> None:
    assert groups("9.1") == [
        ("open", "r2"), ("open", "r1"), ("open", "m/page/4"), ("doubtful here", "l/row/1/1"),
        ("doubtful", "r7"), ("doubtful", "l/row/1/2"),
    ]  # fmt: skip


def test_with_all_of_it_put_right_the_plan_is_complete_and_says_by_whom() -> None:
    plan = make_plan(righted(LOOKED, SEEN, LEADS, COUNT), "9.1")
    assert plan.complete
    assert put_right_lines(plan.put_right) == (
        'Ben: "a table (file )": looked at, and right as it was read (colours only).',
        'Ann: "see r1" leads to 3.3.',
        'Ann: "1 Screw 2": 3 pieces.',
        "Ann: 1 looked at and found right as read.",
    )
    assert [one.by for one in plan.put_right] == ["Ann", "Ben", "Ann", "Ann"]


def test_a_plan_of_other_work_does_not_speak_of_it() -> None:
    plan = make_plan(righted(LEADS), "7.7")
    assert plan.put_right == ()


def test_what_was_set_aside_stands_among_what_is_left_out() -> None:
    aside = AsksNothing(id="c5", fact="r1", saw="see r1", by="Ann", reason="another winch")
    plan = make_plan(righted(aside), "9.1")
    assert [(one.subject, one.why, one.by) for one in plan.left_out] == [("r1", "another winch", "Ann")]


def test_an_answer_says_what_was_put_right_in_its_lists_and_procedures() -> None:
    said = [one.words for one in put_right_taken(righted(LOOKED, SEEN, LEADS, COUNT), ("9.1",))]
    assert any(words.startswith('put right by Ann: "1 Screw 2": 3 pieces') for words in said)
    assert any("Ben" in words and "colours only" in words for words in said)
    assert "1 looked at and found right as read by Ann" in said


def test_a_model_keeps_no_corrections_of_its_own() -> None:
    assert MADE.put_right == ()
    assert isinstance(righted(LEADS).put_right[0], PutRight)
