"""The way back on the sheet: the joint's own screws first, sections in their order, nothing twice."""

from msgspec.structs import replace

from lastbolt.app.make_plan import make_plan
from lastbolt.app.report import ReportParts, report_page
from lastbolt.words.machine import Deed, Machine, Mention, Procedure, Step, TorqueRow, TorqueValue
from lastbolt.words.quantity import Kind
from planned import machine, page, proc, ref

NM9 = TorqueValue((9.0, 9.0), ((9.0, 9.0, "N·m"),), words="9 N·m")


def does(mark: str, words: str, deed: Deed, *names: str, kind: Kind | None = None, **more: object) -> Step:
    mentions = tuple(Mention(name, deed, kind=kind) for name in names)
    return Step(mark, mark, words, (deed,), mentions, citations=page(8, words), **more)  # type: ignore[arg-type]


def section(number: str, title: str, deed: Deed, part: str, *steps: Step, **more: object) -> Procedure:
    return proc(number, *steps, title=title, deed=deed, parts=(part,), **more)  # type: ignore[arg-type]


LID = section(
    "9.1", "Parting the lid", "separate", "lid",
    does("1", "Remove the lid screws.", "remove", "lid screws", kind=Kind("screw", "M6", 16.0)),
    does("2", "Pull the spacer off.", "remove", "spacer"),
    before=(ref("r", "3.3"),), tools=("socket 10 mm",),
)  # fmt: skip
ON = section(
    "9.2", "Joining the lid", "join", "lid",
    does("1", "Put the lid on.", "install", "lid"),
    does("2", "Put all screws in.", "install", "lid screws", kind=Kind("screw")),
    does("3", "Tighten crosswise.", "tighten", torques=(NM9,)),
)  # fmt: skip
GUARD = section("3.3", "Removing the guard", "remove", "guard", does("1", "Take it off.", "remove", "guard"))
BACK = section("3.4", "Installing the guard", "install", "guard", does("1", "Fit it.", "install", "guard"))
ROWS = (TorqueRow("t", "Guard", NM9, "M6", page(5)),)


def words_of(made: Machine) -> list[str]:
    return [item.words for item in report_page(ReportParts(made, make_plan(made, "9.1"))).way_back]


def test_the_own_screws_come_first_and_then_what_has_no_way_back() -> None:
    assert words_of(machine(LID, ON, GUARD, BACK)) == [
        "9.2 step 2: Put all screws in.",
        "9.2 step 3: Tighten crosswise. (9 N·m)",
        "No source says how this goes back on: spacer.",
        "9.2 Joining the lid: lid, lid screws",
        "3.4 Installing the guard: guard",
    ]


def test_what_has_no_way_back_is_not_told_again_as_a_disagreement() -> None:
    made = machine(LID, ON, GUARD, BACK)
    shown = report_page(ReportParts(made, make_plan(made, "9.1")))
    assert shown.disagreements == ()


def test_the_sheet_says_what_to_have_ready() -> None:
    made = machine(LID, ON, GUARD, BACK)
    (tool,) = report_page(ReportParts(made, make_plan(made, "9.1"))).ready
    assert (tool.words, tool.aside) == ("Tool: socket 10 mm", "for 9.1")


def test_the_words_that_ask_for_several_sections_are_quoted_once() -> None:
    said = "Before beginning: guard removed (3.3); cover removed (3.5)."
    asks = tuple(replace(ref(f"r{n}", n), words=said) for n in ("3.3", "3.5"))
    made = machine(
        replace(LID, before=asks), GUARD, replace(GUARD, id="3.5", number="3.5", steps=()), BACK, ON
    )
    plan = make_plan(made, "9.1")
    whys = [block.why for block in report_page(ReportParts(made, plan)).blocks]
    assert whys == [f"needed by 9.1: “{said}”", "needed by 9.1", "the goal itself"]


def test_one_step_that_asks_for_two_things_first_is_one_remark() -> None:
    words, kind = "Bend the tab back and undo the shaft nut.", Kind("nut", "M20")
    nut = does("1", words, "remove", "shaft nut", kind=kind, locks=("tab washer",))
    made = machine(section("9.1", "Removing the drum", "remove", "drum", nut))
    (remark,) = report_page(ReportParts(made, make_plan(made, "9.1"))).before_off
    assert remark.words.startswith("Open the lock first (tab washer); slacken while it is still held: Bend")


def test_a_page_stands_with_its_heading_and_where_it_changes() -> None:
    here = replace(LID, steps=(replace(LID.steps[0], citations=page(3)), LID.steps[1]))
    made = machine(here, ON, GUARD, BACK)
    shown = report_page(ReportParts(made, make_plan(made, "9.1")))
    goal = shown.blocks[-1]
    assert [[cite.where for cite in line.cites] for line in goal.lines] == [
        [],
        ["m, printed page 4-8, PDF page 8"],
    ]
    assert "A line without a page stands on the page of its heading." in shown.plan_state
    assert "No section has a picture here." in shown.plan_state
    assert goal.question == ""


def test_new_parts_stand_with_what_to_have_ready_and_nowhere_else() -> None:
    off = does("3", "Throw the gasket away.", "remove", "gasket", renew=("gasket",))
    made = machine(replace(LID, steps=(*LID.steps, replace(off, id="9.1.3"))), ON, GUARD, BACK)
    shown = report_page(ReportParts(made, make_plan(made, "9.1")))
    assert "New: gasket" in [item.words for item in shown.ready]
    assert not any("gasket" in item.words for item in (*shown.way_back, *shown.before_off))
