"""The checklist on the sheet: today's answer as a bar before force, ticks on what is done."""

import re

from msgspec.structs import replace

from lastbolt.app.plan_shown import blocks_of, plan_state
from lastbolt.app.report import ReportParts, report_page
from lastbolt.app.shown import Shown
from lastbolt.edge.html_out import report_html
from lastbolt.words.answer import ANSWER_SCHEMA, Answer, Suspicion
from lastbolt.words.claims import Verdict
from lastbolt.words.counts import CountSaid, CountTable, InTray, SizeCounts, SourceCounts
from lastbolt.words.machine import MODEL_SCHEMA, Machine
from lastbolt.words.plan import PLAN_SCHEMA, Line, LineState, Open, Plan, RequiredBy

MACHINE = Machine(MODEL_SCHEMA, "m")
SENTENCE = "Do not pull: 2 of 9 places are not accounted for: 4 and 7."


def step(name: str, words: str, *, done: bool = False) -> Line:
    state: LineState = "done" if done else "to do"
    return Line(
        f"g/{name}", "step", "g", RequiredBy("goal"), words=words, number="3.1", mark=name, state=state
    )


def plan(*steps: Line) -> Plan:
    opening = Line("g", "opening", "g", RequiredBy("goal"), words="Part the case", number="3.1")
    return Plan(PLAN_SCHEMA, "part the case", procedures=("g",), lines=(opening, *steps))


def answer(*, clear: bool = False, suspicions: tuple[Suspicion, ...] = ()) -> Answer:
    verdict: Verdict = "free" if clear else "held"
    return Answer(ANSWER_SCHEMA, "j", "Case", verdict, SENTENCE, clear, suspicions=suspicions)


def stops(made: Plan, said: Answer | None) -> list[str]:
    return [line.stop for block in blocks_of(made, MACHINE, Shown(MACHINE), said) for line in block.lines]


STEPS = (
    step("1", "Mark the halves.", done=True),
    step("2", "Press evenly."),
    step("3", "Lift the half off."),
)


def test_the_bar_with_todays_answer_stands_before_force_and_only_there() -> None:
    first, second, third = stops(plan(*STEPS), answer())
    assert second.startswith(f"STOP. {SENTENCE}")
    assert (first, third) == ("", "")


def test_where_no_step_says_force_the_bar_stands_before_the_first() -> None:
    assert [
        bool(stop) for stop in stops(plan(step("1", "Mark it."), step("2", "Mark it again.")), answer())
    ] == [
        True,
        False,
    ]


def test_without_a_walked_joint_the_bar_says_that_nothing_is_known() -> None:
    assert "nothing is known" in stops(plan(*STEPS), None)[1]


def test_no_bar_when_clear_to_part() -> None:
    assert not any(stops(plan(*STEPS), answer(clear=True)))


def test_what_is_done_has_a_tick_and_the_rest_has_none() -> None:
    page = report_page(ReportParts(MACHINE, plan(*STEPS)))
    body = report_html(page, {}, "foot").decode().partition("<body>")[2]
    done = re.findall(r'<li class="([a-z]*)">\s*<p><span class="box"( role="img" aria-label="done")?>', body)
    assert done == [("done", ' role="img" aria-label="done"'), ("", ""), ("", "")]


def test_every_disagreement_is_told_and_what_may_hold_follows() -> None:
    differ = tuple(Suspicion(f"Count {n} differs.", 1, "disagreement") for n in range(9))
    held = tuple(
        Suspicion(f"Place {n}: unseen.", 1, "may hold", where=f"Place {n}", ways_there="Nobody looked.")
        for n in range(9)
    )
    page = report_page(ReportParts(MACHINE, plan(*STEPS), answer(suspicions=(*held, *differ))))
    assert [item.words for item in page.suspicions[:9]] == [item.words for item in differ]
    assert page.more_suspicions == ("Place 6; place 7; place 8: Nobody looked.",)


def test_one_open_point_is_one() -> None:
    made = Plan(PLAN_SCHEMA, "g", lines=STEPS, open=(Open("page", "w", "do"),))
    assert plan_state(made) == "3 steps. Not complete: 1 open point, listed below."


def test_what_may_hold_starts_with_one_sentence() -> None:
    words = 'Place 4: M. Tobin says "open hole", a glance only. Noted on the walk: "oily. Empty".'
    held = Suspicion(words, 1, "may hold", ways="One could be there.")
    (item,) = report_page(ReportParts(MACHINE, plan(*STEPS), answer(suspicions=(held,)))).suspicions
    assert item.words == 'Place 4: M. Tobin says "open hole", a glance only.'
    assert item.aside == 'One could be there. Noted on the walk: "oily. Empty".'


def test_without_a_joint_next_is_the_first_line_not_done() -> None:
    page = report_page(ReportParts(MACHINE, plan(*STEPS)))
    assert [item.words for item in page.next_steps] == ["3.1.2 Press evenly."]


COUNTED = CountTable(
    ("Size", "List", "Places", "Seen out", "Tray", "Engine file"),
    (("bolt M8x50", "4", "–", "–", "3 (Bo)", "–"),),
    sizes=(SizeCounts("bolt M8x50", (SourceCounts("List", (CountSaid("4", 4),)),), tray=(InTray(3, "Bo"),)),),
)


def test_a_count_that_is_not_as_expected_stands_at_the_top_and_first_among_the_counts() -> None:
    why = "The counts: bolt M8x50: list 4, tray 3. One mistake would be enough."
    said = replace(answer(), why=why, counts=COUNTED)
    page = report_page(ReportParts(MACHINE, plan(*STEPS), said))
    told = "Bolt M8x50: 4 expected on this engine, in the tray 3 (Bo)."
    assert page.why == f"{told} One mistake would be enough."
    assert page.count_disagreements[0] == told
