"""Sizes of parts rows beside steps, tables and other rows. Sayings: common practice, no source."""

import pytest
from small_book import M6X20, M8X20, M8X55, M8X70, figure, machine, names, proc, row, step, table_line

from lastbolt.planning.disagreements import disagreements
from lastbolt.words.machine import Machine
from lastbolt.words.quantity import Kind

LONG, SHORT = row("6/8", "Screw, M8 x 70", 2, M8X70), row("6/7", "Screw, M8 x 55", 3, M8X55)


def codes(made: Machine) -> list[str]:
    return [problem.code for problem in disagreements(made)]


def cover(*mentions: object) -> Machine:
    """Section 6.4 takes out what is named, one step each; the list has 2 x M8x70 and 3 x M8x55."""
    steps = [step(str(n), "Remove the screws.", one) for n, one in enumerate(mentions, 1)]  # type: ignore[arg-type]
    title = "Removing the pump cover"
    return machine(proc("6.4", title, "remove", "pump cover", *steps), figure("6", "Pump cover"), LONG, SHORT)


def test_two_lengths_exchanged_between_steps_and_rows_are_one_matter() -> None:
    made = cover(
        names("screws", count=2, kind=M8X55, row="6/8"), names("screws", count=3, kind=M8X70, row="6/7")
    )
    problems = disagreements(made)
    assert [problem.code for problem in problems] == ["LB-B03"]
    for said in ("item 8", "item 7", "M8x70", "M8x55", "6.4 step 1", "6.4 step 2"):
        assert said in problems[0].what
    assert len(problems[0].citations) == 4


def test_two_lengths_exchanged_between_table_and_rows_are_one_matter() -> None:
    made = machine(
        LONG, SHORT,
        table_line("7", "M8 x 70", 3, M8X70, "6"),
        table_line("8", "M8 x 55", 2, M8X55, "6"),
    )  # fmt: skip
    (problem,) = disagreements(made)
    assert problem.code == "LB-B03"
    assert "Table 4-1 Case screws, item 7 says screw M8x70 and item 8 screw M8x55" in problem.what


def test_one_length_that_differs_is_told_alone() -> None:
    made = cover(names("screws", count=2, kind=Kind("bolt", "M8", 80.0), row="6/8"))
    (problem,) = disagreements(made)
    assert problem.code == "LB-B02"
    assert "M8x70" in problem.what
    assert "M8x80" in problem.what


def test_a_thread_that_differs_is_told() -> None:
    assert codes(cover(names("screws", count=2, kind=Kind("screw", "M6", 70.0), row="6/8"))) == ["LB-B02"]


def test_a_length_that_no_row_has_is_told_although_the_step_names_no_item() -> None:
    made = cover(names("screws", count=2, kind=Kind("screw", "M8", 75.0)))
    (problem,) = disagreements(made)
    assert problem.code == "LB-B02"
    assert "M8x70" in problem.what


INNOCENT = {
    "bolt for screw": names("bolts", count=2, kind=Kind("bolt", "M8", 70.0), row="6/8"),
    "no size": names("screws", count=2, kind=Kind("screw"), row="6/8"),
    "thread only": names("screws", count=2, kind=Kind("screw", "M8"), row="6/8"),
    "the nut on the screw": names("nuts", count=2, kind=Kind("nut", "M8"), row="6/8"),
    "a dowel at the same callout": names("dowel", count=2, kind=Kind("dowel", "8", 24.0), row="6/8"),
    "screws of another figure": names("screws", count=4, kind=Kind("screw", "M8", 35.0)),
}


@pytest.mark.parametrize("mention", INNOCENT.values(), ids=INNOCENT)
def test_innocent_sizes_are_not_alleged(mention: object) -> None:
    assert codes(cover(mention)) == []


def test_a_pitch_that_the_manual_leaves_out_is_no_difference() -> None:
    fine = row("6/1", "Nut, M20 x 1.5", 1, Kind("nut", "M20x1.5"))
    made = machine(
        proc("6.6", "Removing the pinion", "remove", "pinion",
             step("1", "Unscrew the nut M20.", names("nut", count=1, kind=Kind("nut", "M20"), row="6/1"))),
        fine,
    )  # fmt: skip
    assert codes(made) == []


def test_a_part_number_with_two_sizes_is_told_with_both_rows() -> None:
    made = machine(
        row("2/4", "Screw, M8 x 20", 4, M8X20, "W-204"), row("3/6", "Screw, M6 x 20", 2, M6X20, "W-204")
    )
    (problem,) = disagreements(made)
    assert problem.code == "LB-B04"
    for said in ("W-204", "figure 2, item 4", "figure 3, item 6"):
        assert said in problem.what


@pytest.mark.parametrize("number", ["", "-", "n/a", "NSS", "—"])
def test_no_part_number_is_not_one_part_number(number: str) -> None:
    made = machine(
        row("2/4", "Screw, M8 x 20", 4, M8X20, number), row("3/6", "Screw, M6 x 20", 2, M6X20, number)
    )
    assert codes(made) == []


def test_one_part_number_in_two_figures_with_different_counts_is_usual() -> None:
    made = machine(
        row("2/4", "Screw, M8 x 20", 4, M8X20, "W-204"),
        row("3/6", "Bolt, hexagon M8 x 20", 12, Kind("bolt", "M8", 20.0, "hex"), "W-204"),
        row("4/1", "Screw", 1, Kind("screw"), "W-204"),
    )
    assert codes(made) == []
