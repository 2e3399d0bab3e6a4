"""Counts of parts rows beside steps and tables: what must be said, and the look-alikes that must not.

The sayings are those of service manuals in general (common practice, no source).
"""

import pytest
from small_book import (
    AS_REQUIRED,
    M6X20,
    M8X20,
    REMAINING,
    figure,
    lines_of,
    machine,
    names,
    per,
    proc,
    row,
    step,
    table_line,
)

from lastbolt.planning.disagreements import disagreements
from lastbolt.words.machine import Applies, Machine
from lastbolt.words.quantity import Kind, Quantity

GUARD = row("2/4", "Screw, hex, M8 x 20", 4, M8X20)
ELECTRIC, HAND = Applies(("E",)), Applies(("H",))


def guard(*steps: object, more: tuple[object, ...] = (), rows: tuple[object, ...] = (GUARD,)) -> Machine:
    """A machine whose section 4.1 removes the chain guard."""
    return machine(
        proc("4.1", "Removing the chain guard", "remove", "chain guard", *steps),  # type: ignore[arg-type]
        figure("2", "Chain guard"),
        *rows,  # type: ignore[arg-type]
        *more,  # type: ignore[arg-type]
    )


def codes(made: Machine) -> list[str]:
    return [problem.code for problem in disagreements(made)]


def screws(count: int | Quantity, at: str = "2/4", deed: str = "remove", kind: Kind | None = M8X20) -> object:
    return names("screws", deed, count, kind, at)  # type: ignore[arg-type]


def test_a_step_and_its_row_that_differ_are_told_with_both_places() -> None:
    problems = disagreements(guard(step("1", "Remove the five screws (4).", screws(5))))
    assert [problem.code for problem in problems] == ["LB-B01"]
    assert "4" in problems[0].what
    assert "4.1 step 1 says 5" in problems[0].what
    assert problems[0].where == "list, printed page p12, PDF page 12; book, printed page p1, PDF page 1"
    assert {citation.source for citation in problems[0].citations} == {"list", "book"}


def test_too_few_are_told_when_nobody_else_takes_the_rest() -> None:
    assert codes(guard(step("1", "Remove the three screws (4).", screws(3)))) == ["LB-B01"]


def test_too_many_are_told_even_when_a_step_says_no_number() -> None:
    made = guard(
        step("1", "Remove five screws (4).", screws(5)),
        step("2", "Remove the remaining screws (4).", screws(REMAINING)),
    )
    assert codes(made) == ["LB-B01"]


def test_one_section_may_take_some_and_another_the_rest_of_one_row() -> None:
    other = proc(
        "7.2", "Removing the pump bracket", "remove", "pump bracket",
        step("4", "Remove the two lower screws (4).", screws(2)),  # type: ignore[arg-type]
    )  # fmt: skip
    assert codes(guard(step("1", "Remove two screws (4).", screws(2)), more=(other,))) == []


def test_a_step_without_callout_is_compared_with_its_parts_own_figure() -> None:
    made = guard(step("1", "Remove the five screws M8 x 20.", screws(5, "")))
    assert codes(made) == ["LB-B01"]


def test_several_callouts_for_one_count_add_up() -> None:
    rows = (GUARD, row("2/5", "Screw, hex, M8 x 20", 3, M8X20))
    right = guard(step("1", "Remove the seven screws (4, 5).", screws(7, "2/4 2/5")), rows=rows)
    wrong = guard(step("1", "Remove the eight screws (4, 5).", screws(8, "2/4 2/5")), rows=rows)
    assert codes(right) == []
    assert codes(wrong) == ["LB-B01"]


def test_installing_more_than_the_list_has_is_told_too() -> None:
    made = guard(step("1", "Fit the six screws (4).", screws(6, deed="install")))
    assert codes(made) == ["LB-B01"]


SILENT = {
    "the same count": [step("1", "Remove the four screws (4).", screws(4))],
    "a sum of two steps": [
        step("1", "Remove the two upper screws (4).", screws(2)),
        step("2", "Remove the two lower screws (4).", screws(2)),
    ],
    "some, then the remaining two": [
        step("1", "Remove two screws (4).", screws(2)),
        step("2", "Remove the remaining two screws (4).", screws(REMAINING)),
    ],
    "two each side": [step("1", "Remove the screws (4), two each side.", screws(per(2, "side")))],
    "two on this side, then the same again": [
        step("1", "Remove the two screws (4); likewise on the other side.", screws(2))
    ],
    "one, then repeat": [
        step("1", "Remove the screw (4).", screws(1)),
        step("2", "Repeat step 1 for the other three.", deeds=()),
    ],
    "as required": [step("1", "Remove the screws (4).", screws(AS_REQUIRED))],
    "no count": [step("1", "Remove the screws (4).", screws(Quantity()))],
    "named again where they are loosened": [
        step("1", "Loosen the four screws (4) by half a turn.", screws(4, deed="loosen")),
        step("2", "Remove the four screws (4).", screws(4)),
    ],
    "taken out, put in for a test, taken out again": [
        step("1", "Remove the four screws (4).", screws(4)),
        step("6", "Remove the four screws (4) again.", screws(4)),
    ],
    "tightened in two stages": [
        step("1", "Fit the four screws (4).", screws(4, deed="install")),
        step("2", "Tighten the four screws (4) to 10 N·m.", screws(4, deed="tighten")),
        step("3", "Tighten the four screws (4) to 22 N·m.", screws(4, deed="tighten")),
    ],
    "only if": [step("1", "If it is bent, remove two screws (4).", screws(2), condition="it is bent")],
    "one variant's step": [step("1", "Remove two screws (4).", screws(2), applies=ELECTRIC)],
    "the rest by a step that names no size": [
        step("1", "Remove two screws M8 x 20 (4).", screws(2)),
        step("2", "Remove the screws and take off the guard.", names("screws", kind=Kind("screw"))),
    ],
}


@pytest.mark.parametrize("steps", SILENT.values(), ids=SILENT)
def test_innocent_counts_are_not_alleged(steps: list[object]) -> None:
    assert codes(guard(*steps)) == []


def test_the_rest_may_come_out_in_another_chapter() -> None:
    other = proc(
        "7.2", "Removing the pump bracket", "remove", "pump bracket",
        step("4", "Remove the two screws M8 x 20 that also hold the chain guard.", screws(2, "")),  # type: ignore[arg-type]
    )  # fmt: skip
    assert codes(guard(step("1", "Remove two screws (4).", screws(2)), more=(other,))) == []


def test_two_sections_may_each_take_out_the_same_screws() -> None:
    other = proc(
        "9.1", "Removing the chain", "remove", "chain",
        step("1", "Remove the four screws and the chain guard.", screws(4)),  # type: ignore[arg-type]
    )  # fmt: skip
    assert codes(guard(step("1", "Remove the four screws (4).", screws(4)), more=(other,))) == []


def test_a_row_that_says_no_plain_number_is_not_compared() -> None:
    for quantity in (AS_REQUIRED, Quantity(), Quantity("range", 2, 6), per(2, "assembly"), per(2, "side")):
        rows = (row("2/4", "Screw, hex, M8 x 20", quantity, M8X20),)
        assert codes(guard(step("1", "Remove the four screws (4).", screws(4)), rows=rows)) == []


def test_variants_with_their_own_rows_each_fit() -> None:
    rows = (
        row("2/4", "Screw, hex, M8 x 20", 4, M8X20, applies=ELECTRIC),
        row("2/4", "Screw, hex, M8 x 20", 3, M8X20, applies=HAND, more="+2"),
    )
    made = guard(step("1", "Remove the three screws M8 x 20.", screws(3, "")), rows=rows)
    assert codes(made) == []
    made = guard(step("1", "Remove the six screws M8 x 20.", screws(6, "2/4 2/4+2")), rows=rows)
    assert codes(made) == ["LB-B01"]


def test_the_same_size_in_a_figure_of_another_part_is_no_evidence() -> None:
    """The guard's own figure lists no M8 x 20; those of the tank do not speak for it."""
    rows = (row("2/1", "Guard, chain"), row("3/2", "Screw, hex, M8 x 20", 6, M8X20))
    made = guard(step("1", "Remove the four screws M8 x 20.", screws(4, "")), rows=rows)
    assert codes(made) == []


def test_two_rows_of_one_size_in_the_figure_leave_it_open_which_is_meant() -> None:
    rows = (GUARD, row("2/9", "Screw, hex, M8 x 20", 2, M8X20))
    made = guard(step("1", "Remove the two screws M8 x 20.", screws(2, "")), rows=rows)
    assert codes(made) == []


def test_a_table_of_screws_is_held_against_the_items_it_names() -> None:
    made = machine(
        row("2/4", "Screw, M8 x 20", 4, M8X20),
        row("2/5", "Screw, M6 x 20", 3, M6X20),
        table_line("4", "M8 x 20", 5, M8X20, "2"),
        table_line("5", "M6 x 20", 3, M6X20, "2"),
    )
    problems = disagreements(made)
    assert [problem.code for problem in problems] == ["LB-B01"]
    assert "Table 4-1 Case screws, item 4 says 5" in problems[0].what


def test_a_table_that_splits_an_item_over_two_lines_is_added_up() -> None:
    made = machine(
        row("2/4", "Screw, M8 x 20", 4, M8X20),
        row("2/5", "Screw, M6 x 20", 3, M6X20),
        table_line("4", "M8 x 20", 3, M8X20, "2"),
        table_line("4", "M8 x 20, far side", 1, M8X20, "2"),
        table_line("5", "M6 x 20", 3, M6X20, "2"),
    )
    assert disagreements(made) == ()


def test_a_table_without_items_is_held_against_the_one_figure_that_has_its_sizes() -> None:
    table = (table_line("", "M8 x 20", 5, M8X20), table_line("", "M6 x 20", 3, M6X20))
    rows = (row("2/4", "Screw, M8 x 20", 4, M8X20), row("2/5", "Screw, M6 x 20", 3, M6X20))
    assert codes(machine(*rows, *table)) == ["LB-B01"]
    twin = (row("3/1", "Screw, M8 x 20", 5, M8X20), row("3/2", "Screw, M6 x 20", 3, M6X20))
    assert codes(machine(*rows, *twin, *table)) == []


def test_a_plan_hears_of_its_own_sections_and_of_what_puts_them_back() -> None:
    made = guard(
        step("1", "Remove the four screws (4).", screws(4)),
        more=(
            proc(
                "4.2", "Installing the chain guard", "install", "chain guard",
                step("1", "Fit the five screws (4).", screws(5, deed="install")),  # type: ignore[arg-type]
            ),
            proc(
                "8.1", "Removing the tank", "remove", "tank",
                step("1", "Remove the nine screws (1).", screws(9, "5/1")),  # type: ignore[arg-type]
            ),
            row("5/1", "Screw, hex, M8 x 20", 8, M8X20),
        ),
    )  # fmt: skip
    assert len(disagreements(made)) == 2
    planned = frozenset(line.procedure for line in lines_of(made, "4.1"))
    (problem,) = disagreements(made, planned)
    assert "4.2 step 1 says 5" in problem.what
