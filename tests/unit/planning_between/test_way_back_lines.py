"""The lines of the way back: told, reversed, proposed; and nothing that comes off is absent from them."""

from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from small_book import M8X20, lines_of, machine, names, proc, reverse_of, step

from lastbolt.app.make_back import make_back
from lastbolt.app.make_plan import make_plan
from lastbolt.words.back import Back
from lastbolt.words.job import JOB_SCHEMA, Job, StepDone
from lastbolt.words.machine import Machine, Procedure, Reference

GUARD = proc(
    "3.1", "Removing the chain guard", "remove", "chain guard",
    step("1", "Remove the four screws (4).", names("screws", count=4, kind=M8X20)),
    step("2", "Take the chain guard off.", names("chain guard")),
    step("3", "Take out the spacer.", names("spacer")),
)  # fmt: skip
GUARD_ON = proc(
    "3.2", "Installing the chain guard", "install", "chain guard",
    step("1", "Lay in the spacer.", names("spacer", "install")),
    step("2", "Fit the chain guard and the four screws.", names("chain guard", "install"),
         names("screws", "install", 4, M8X20)),
    step("3", "Tighten the screws crosswise.", names("screws", "tighten")),
)  # fmt: skip


def way_of(made: Machine, goal: str, job: Job | None = None) -> Back:
    plan = make_plan(made, goal, None, job)
    assert plan.procedures
    return make_back(made, plan, job)


def test_the_sources_own_steps_come_in_their_own_order() -> None:
    found = way_of(machine(GUARD, GUARD_ON), "3.1")
    assert [(one.how, one.line.words) for one in found.lines if one.line.kind == "step"] == [
        ("told", "Lay in the spacer."),
        ("told", "Fit the chain guard and the four screws."),
        ("told", "Tighten the screws crosswise."),
    ]


def test_reverse_of_removal_is_read_out_from_the_last_step_with_its_exception_where_it_belongs() -> None:
    words = "Installation is the reverse of removal, except that a new spacer is laid in dry."
    back_on = proc("3.2", "Installing the chain guard", "install", "chain guard",
                   step("1", words, references=reverse_of("3.1", words)))  # fmt: skip
    found = way_of(machine(GUARD, back_on), "3.1")
    reversed_ = [one for one in found.lines if one.how == "reversed"]
    assert [one.parts for one in reversed_] == [("spacer",), ("chain guard",), ("screws",)]
    assert [one.reverses for one in reversed_] == [f"book/step/3.1/{n}" for n in "321"]
    (spacer, *rest) = reversed_
    assert "new spacer" in "".join(spacer.exceptions)
    assert not any(one.exceptions for one in rest)
    assert all(one.line.citations for one in reversed_)


def test_what_no_source_puts_back_is_proposed_and_asks_for_confirmation() -> None:
    found = way_of(machine(GUARD), "3.1")
    assert {one.how for one in found.lines} == {"proposed"}
    assert [one.parts[-1] for one in found.lines] == ["spacer", "chain guard", "screws"]
    assert all("confirm" in one.line.question for one in found.lines)


def test_a_proposal_stands_before_the_section_whose_part_came_off_earlier() -> None:
    motor = proc("5.1", "Removing the motor", "remove", "motor",
                 step("1", "Take the chain guard off (see 3.1).", references=()),
                 step("2", "Remove the motor.", names("motor")))  # fmt: skip
    both = proc("1.1", "Opening the drive", "remove", "",
                *(step(str(n), f"Remove the {part}.", names(part)) for n, part in enumerate(
                    ("hood", "chain guard", "motor"), 1)))  # fmt: skip
    hood_on = proc("3.3", "Installing the hood", "install", "hood",
                   step("1", "Set the hood on.", names("hood", "install")))  # fmt: skip
    found = way_of(machine(motor, both, hood_on), "1.1")
    order = [one.parts for one in found.lines if one.parts]
    assert order.index(("hood",)) == len(order) - 1
    assert order[0] == ("motor",)


def test_a_tick_on_a_line_of_the_way_back_shows_on_it() -> None:
    job = Job(JOB_SCHEMA, "j", "3.1", events=(StepDone(id="e1", by="Ama", step="back/book/step/3.1/3"),))
    found = way_of(machine(GUARD), "3.1", job)
    assert [one.line.state for one in found.lines] == ["done, not looked at", "to do", "to do"]


def test_what_was_never_taken_off_is_only_confirmed() -> None:
    gears = proc("6.7", "Installing the gears", "install", "gears",
                 step("1", "Push the gears on.", names("gears", "install")))  # fmt: skip
    asks = Reference("r", "Gears installed (6.7)", "before", "resolved", ("book/procedure/6.7",))
    guard_on = replace(GUARD_ON, before=(asks,))
    found = way_of(machine(GUARD, guard_on, gears), "3.1")
    first = found.lines[0].line
    assert (first.kind, first.procedure) == ("confirm", "book/procedure/6.7")
    assert not any(one.line.step.startswith("book/step/6.7") for one in found.lines)


PARTS = (
    "cover",
    "pump",
    "lever",
    "hose",
    "bracket",
    "fan",
    "spacer",
    "pulley",
    "guide rail",
    "screws",
    "nut",
)


@st.composite
def machines(draw: st.DrawFn) -> Machine:
    """A section that takes some parts off, and sections that put some of them back in one of four ways."""
    parts = draw(st.lists(st.sampled_from(PARTS), min_size=1, max_size=6, unique=True))
    off = [
        step(str(n), f"Remove the {part}.", names(part, kind=M8X20 if part == "screws" else None))
        for n, part in enumerate(parts, 1)
    ]
    things: list[Procedure] = [proc("1.1", "Opening the drive", "remove", "drive", *off)]
    how = draw(st.sampled_from(["nothing", "reverse", "own section", "some"]))
    if how == "reverse":
        again = step("1", "Installation is the reverse of removal.", references=reverse_of("1.1"))
        things.append(proc("1.2", "Closing the drive", "install", "drive", again))
    if how == "own section":
        again_ = [step(str(n), f"Fit the {part}.", names(part, "install")) for n, part in enumerate(parts, 1)]
        things.append(proc("1.2", "Closing the drive", "install", "drive", *again_))
    if how == "some":
        some = draw(st.lists(st.sampled_from(parts), unique=True))
        things += [
            proc(
                f"2.{n}",
                f"Installing the {part}",
                "install",
                part,
                step("1", f"Fit the {part}.", names(part, "install")),
            )
            for n, part in enumerate(some, 1)
        ]
    return machine(*things)


@given(machines())
def test_nothing_that_comes_off_is_absent_and_each_has_a_line_that_puts_it_back(made: Machine) -> None:
    found = way_of(made, "1.1")
    off = [m.name for line in lines_of(made, "1.1") for m in line.mentions if m.deed == "remove"]
    known = {one.part for one in found.removed}
    assert set(off) <= known
    ids = {one.line.id for one in found.lines}
    for one in found.removed:
        assert one.renewed or (one.on_by and set(one.on_by) <= ids), one
