"""Two small editions written out by hand: what changed is listed, what only moved is not."""

import random

import pytest
from msgspec.structs import replace

from lastbolt.comparing.editions import compare
from lastbolt.comparing.touched import touched
from lastbolt.words.changes import Change
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.job import Job, ProcedureDone, StepDone, Undone
from lastbolt.words.machine import (
    Caution,
    Machine,
    Mention,
    PartsRow,
    Procedure,
    Reference,
    Step,
    TorqueRow,
    TorqueValue,
)
from lastbolt.words.plan import Line, Plan, RequiredBy
from lastbolt.words.quantity import Kind, exactly


def step(number: int, words: str, section: str = "4.2", **more: object) -> Step:
    return Step(f"m/{section}/{number}", str(number), words, **more)  # type: ignore[arg-type]


def newton(value: float) -> TorqueValue:
    return TorqueValue((value, value), ((value, value, "N·m"),))


FAN = Procedure(
    "m/4.1", "4.1", "Fan: Removal", "remove", steps=(step(1, "Unhook the two springs.", "4.1"),)
)  # fmt: skip
BRACKET = Procedure(
    "m/4.2",
    "4.2",
    "Pump bracket: Removal",
    "remove",
    steps=(
        step(1, "Drain the oil."),
        step(2, "Remove the two bolts and keep them apart from the others."),
        step(3, "Lift the bracket off its two dowels."),
    ),
    before=(Reference("m/4.2/b", "fan removed (4.1)", "before", "resolved", ("m/4.1",)),),
)
TO_THE_FAN = Reference("r", "see 4.1", "before", "resolved", ("m/4.1",))
ROW = PartsRow("p/7/3", "p", "7", "3", "GR-114", "Bolt", exactly(2), Kind("bolt", "M8", 70.0))
OLD = Machine(
    "lastbolt.model/1",
    "pump",
    procedures=(FAN, BRACKET),
    rows=(ROW,),
    torques=(TorqueRow("t/1", "pump bracket", newton(24)), TorqueRow("t/2", "pump bracket", newton(9))),
)


def with_bracket(**more: object) -> Machine:
    return replace(OLD, procedures=(FAN, replace(BRACKET, **more)))


def told(new: Machine) -> list[tuple[str, str, str]]:
    return [(change.kind, change.about, change.what) for change in compare(OLD, new).changes]


def test_the_same_edition_has_no_changes() -> None:
    found = compare(OLD, OLD)
    assert (found.changes, found.renumbered) == ((), ())


def test_a_step_put_in_between_is_new_and_the_later_ones_are_not() -> None:
    one, two, three = BRACKET.steps
    new = (
        one,
        step(2, "Mark the position of the bracket."),
        replace(two, mark="3"),
        replace(three, mark="4"),
    )
    assert told(with_bracket(steps=new)) == [("new", "step", "4.2 step 2")]


def test_a_step_left_out_is_gone_with_its_words() -> None:
    (change,) = compare(OLD, with_bracket(steps=BRACKET.steps[1:])).changes
    assert (change.kind, change.about, change.was) == ("gone", "step", "Drain the oil.")
    assert change.old == "m/4.2/1"


@pytest.mark.parametrize(
    ("about", "more", "was", "now"),
    [
        ("torque", {"torques": (newton(24),)}, "", "24 N·m"),
        ("limits", {"left_hand": True}, "", "left-hand thread"),
        ("warning", {"cautions": (Caution("warning", "It is heavy."),)}, "", "warning: It is heavy."),
        ("step", {"words": "Remove the two bolts with the others."}, BRACKET.steps[1].words, None),
        ("reference", {"references": (TO_THE_FAN,)}, "", "see 4.1"),
    ],
)  # fmt: skip
def test_what_a_step_says_otherwise_is_named_by_its_sort(
    about: str, more: dict[str, object], was: str, now: str | None
) -> None:
    one, two, three = BRACKET.steps
    changed = replace(two, **more)
    (change,) = compare(OLD, with_bracket(steps=(one, changed, three))).changes
    assert (change.about, change.was) == (about, was)
    assert change.now == (changed.words if now is None else now)


def test_a_section_under_another_number_is_the_same_and_so_is_what_points_to_it() -> None:
    fan = replace(FAN, id="n/4.7", number="4.7")
    pointing = replace(BRACKET.before[0], words="fan removed (4.7)", to=("n/4.7",))
    found = compare(OLD, replace(OLD, procedures=(replace(BRACKET, before=(pointing,)), fan)))
    assert found.changes == ()
    assert found.renumbered == (("4.1", "4.7"),)


def test_a_required_condition_that_is_new_or_gone_is_told() -> None:
    assert told(with_bracket(before=())) == [("gone", "reference", "4.2 Pump bracket: Removal: set-up")]
    more = Reference("m/4.2/c", "oil drained (2.1)", "before", "dangling")
    assert told(with_bracket(before=(*BRACKET.before, more))) == [
        ("new", "reference", "4.2 Pump bracket: Removal: set-up")
    ]


def test_rows_and_torque_tables() -> None:
    third = PartsRow("p/7/4", "p", "7", "4", "GR-115", "Washer", exactly(2))
    torques = (replace(OLD.torques[0], value=newton(26)), OLD.torques[1])
    new = replace(OLD, rows=(replace(ROW, quantity=exactly(3)), third), torques=torques)
    assert told(new) == [
        ("changed", "torque table", "pump bracket"),
        ("changed", "parts row", "figure 7 item 3, Bolt"),
        ("new", "parts row", "figure 7 item 4, Washer"),
    ]
    (_, row, _) = compare(OLD, new).changes
    assert (row.was, row.now) == ("2 x Bolt, GR-114, bolt M8x70", "3 x Bolt, GR-114, bolt M8x70")


def test_lines_and_ticks_that_rest_on_a_change_are_named() -> None:
    one, two, three = BRACKET.steps
    new = with_bracket(steps=(one, replace(two, torques=(newton(24),)), three))
    because = RequiredBy("goal")
    plan = Plan(
        "lastbolt.plan/1",
        "pump bracket",
        lines=(
            Line("a", "step", "m/4.2", because, words=one.words, number="4.2", mark="1", step=one.id),
            Line("b", "step", "m/4.2", because, words=two.words, number="4.2", mark="2", step=two.id),
        ),
    )
    events = (
        StepDone(id="e1", by="A", step=one.id),
        StepDone(id="e2", by="A", step=two.id),
        ProcedureDone(id="e3", by="B", procedure="m/4.2"),
        StepDone(id="e4", by="C", step=two.id),
        Undone(id="e5", by="C", undoes="e4"),
    )
    found = touched(compare(OLD, new).changes, OLD, plan, Job("lastbolt.job/1", "j", "", events=events))
    assert [(one.document, one.line) for one in found] == [("plan", "b"), ("job", "e2"), ("job", "e3")]


def test_what_changed_in_a_section_as_a_whole_concerns_its_first_line_and_every_tick() -> None:
    one, two, three = BRACKET.steps
    because = RequiredBy("goal")
    lines = tuple(Line(s.id, "step", "m/4.2", because, words=s.words, step=s.id) for s in BRACKET.steps)
    job = Job("lastbolt.job/1", "j", "", events=(StepDone(id="e1", by="A", step=three.id),))
    put_in = step(9, "Prop the engine up before anything else.")
    for more in (
        {"cautions": (Caution("danger", "It falls."),)},
        {"before": ()},
        {"steps": (one, put_in, two, three)},
    ):
        changes = compare(OLD, with_bracket(**more)).changes
        found = touched(changes, OLD, Plan("lastbolt.plan/1", "pump bracket", lines=lines), job)
        assert [(t.document, t.line, t.changes) for t in found] == [
            ("plan", one.id, (0,)),
            ("job", "e1", (0,)),
        ]


def test_a_parts_row_that_changed_concerns_the_steps_that_speak_of_it() -> None:
    two = replace(BRACKET.steps[1], mentions=(Mention("bolts", rows=(ROW.id,)),))
    old = with_bracket(steps=(BRACKET.steps[0], two, BRACKET.steps[2]))
    changes = compare(old, replace(old, rows=(replace(ROW, quantity=exactly(3)),))).changes
    job = Job("lastbolt.job/1", "j", "", events=(StepDone(id="e1", by="A", step=two.id),))
    assert [one.line for one in touched(changes, old, None, job)] == ["e1"]


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ("Set the play to > 0.05 mm.", "Set the play to < 0.05 mm."),
        ("Warm it to 20 °C.", "Warm it to -20 °C."),
        ("Turn it by 90°.", "Turn it by 90 mm."),
        ("Open it 1/2 turn.", "Open it 1 2 turn."),
    ],
)
def test_a_sign_that_changes_a_value_is_a_difference(was: str, now: str) -> None:
    old, new = (with_bracket(steps=(step(1, words),)) for words in (was, now))
    assert [(one.was, one.now) for one in compare(old, new).changes] == [(was, now)]


def test_other_words_beside_a_new_torque_are_told_too() -> None:
    was = step(1, "Tighten the bolts to 24 N·m.", torques=(newton(24),))
    value = step(1, "Tighten the bolts to 26 N·m.", torques=(newton(26),))
    dry = step(1, "Tighten the bolts dry to 26 N·m.", torques=(newton(26),))
    old = with_bracket(steps=(was,))
    assert [c.about for c in compare(old, with_bracket(steps=(value,))).changes] == ["torque"]
    assert [c.about for c in compare(old, with_bracket(steps=(dry,))).changes] == ["torque", "step"]


def test_a_note_that_became_a_warning_and_a_torque_for_another_thread_are_told() -> None:
    old, new = (with_bracket(cautions=(Caution(signal, "It is heavy."),)) for signal in ("note", "warning"))
    assert [(c.kind, c.now or c.was) for c in compare(old, new).changes] == [
        ("new", "warning: It is heavy."),
        ("gone", "note: It is heavy."),
    ]
    first, second = OLD.torques
    small, large = (replace(OLD, torques=(replace(first, thread=size), second)) for size in ("M8", "M10"))
    assert [(c.was, c.now) for c in compare(small, large).changes] == [("24 N·m for M8", "24 N·m for M10")]


def test_any_shuffling_of_sections_tells_nothing_but_numbers() -> None:
    draw = random.Random(7)
    sections = [
        Procedure(
            f"m/{n}",
            f"{n}",
            f"Part {chr(65 + n)}: Removal",
            steps=tuple(step(k, f"Do work {n} number {k} on it.", f"{n}") for k in range(1, 5)),
        )
        for n in range(12)
    ]
    old = replace(OLD, procedures=tuple(sections))
    for _ in range(20):
        mixed = draw.sample(sections, len(sections))
        new = replace(old, procedures=tuple(replace(p, number=f"9.{i}") for i, p in enumerate(mixed)))
        found = compare(old, new)
        assert found.changes == ()
        assert len(found.renumbered) == len(sections)


def test_each_single_edit_is_found_and_nothing_else() -> None:
    """Every edit drawn at random comes back as just one change, of the right sort and place."""
    draw = random.Random(11)
    words = [
        "case",
        "cover",
        "shaft",
        "pump",
        "lever",
        "gear",
        "plug",
        "ring",
        "seal",
        "spring",
        "pawl",
        "drum",
        "hook",
    ]
    for _ in range(60):
        sections = []
        for n in range(6):
            steps = tuple(
                step(
                    k, f"Remove the {draw.choice(words)} {n}{k} from the {draw.choice(words)} {k}{n}.", f"{n}"
                )
                for k in range(1, 7)
            )
            sections.append(Procedure(f"m/{n}", f"{n}", f"{words[n]}: Removal", steps=steps))
        n, k = draw.randrange(6), draw.randrange(6)
        victim = sections[n]
        steps = list(victim.steps)
        edit = draw.choice(("drop", "torque", "add"))
        if edit == "drop":
            gone = steps.pop(k)
        elif edit == "torque":
            steps[k] = replace(steps[k], torques=(newton(draw.randrange(5, 90)),))
        else:
            steps.insert(k, step(99, "Put a drip tray below.", f"{n}"))
        new = [*sections]
        new[n] = replace(victim, steps=tuple(steps))
        found: tuple[Change, ...] = compare(
            replace(OLD, procedures=tuple(sections)), replace(OLD, procedures=tuple(new))
        ).changes
        (change,) = found
        expected = {"drop": ("gone", "step"), "torque": ("new", "torque"), "add": ("new", "step")}[edit]
        assert (change.kind, change.about) == expected
        if edit == "drop":
            assert change.was == gone.words


def test_a_changed_torque_gives_the_size_as_the_table_prints_it() -> None:
    """Two lines of M10 are told apart by their lengths."""

    def book(value: float) -> Machine:
        cells = f"Case bolt at bearing | M10 x 90 | 3 | {value:g} N·m"
        at = (Citation("m", PdfPlace(7, "5-1"), cells),)
        row = TorqueRow("t", "Case bolt at bearing", newton(value), "M10", at)
        return Machine("lastbolt.model/1", "b", torques=(row,))

    (change,) = compare(book(38), book(42)).changes
    assert (change.was, change.now) == ("38 N·m for M10 x 90", "42 N·m for M10 x 90")
