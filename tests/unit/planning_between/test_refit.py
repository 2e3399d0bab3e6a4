"""The fasteners that a plan takes out: the steps that fit and tighten them, and the torque table's lines."""

import pytest
from msgspec.structs import replace
from small_book import M8X20, M8X70, cited, lines_of, names, proc, reverse_of, step
from small_book import machine as made_of

from lastbolt.app.torque_sizes import size_of_row
from lastbolt.planning.way_back import way_back
from lastbolt.words.machine import Machine, Procedure, Step, TorqueRow, TorqueValue
from lastbolt.words.plan import Fastening
from lastbolt.words.quantity import Kind

OFF = proc(
    "6.4", "Separating the gear case", "separate", "gear case",
    step("1", "Remove the case screws.", names("case screws", count=10, kind=M8X70)),
    step("2", "Draw the cover off.", names("cover")),
)  # fmt: skip


def value(words: str) -> TorqueValue:
    return TorqueValue((24.0, 24.0), ((24.0, 24.0, "N·m"),), words=words, citations=cited("book", 9, words))


def tightens(mark: str, words: str, *torques: str) -> Step:
    made = step(mark, words, deeds=("tighten",))
    return replace(made, torques=tuple(value(one) for one in torques))


def with_torques(procedure: Procedure, **torques: Step) -> Procedure:
    """The procedure with the torques that `proc` leaves out of its steps."""
    by_mark = {one.mark: one.torques for one in torques.values()}
    steps = tuple(replace(one, torques=by_mark.get(one.mark, ())) for one in procedure.steps)
    return replace(procedure, steps=steps)


def row(name: str, what: str, thread: str | None, cells: str) -> TorqueRow:
    at = cited("book", 8, cells)
    return TorqueRow(name, what, replace(value("24 N·m"), citations=at), thread, at)


def fastenings(made: Machine, *numbers: str, goal: str = "") -> list[Fastening]:
    goals = (f"book/procedure/{goal or numbers[-1]}",)
    return list(way_back(lines_of(made, *numbers), made, goals, size_of_row)[0].fastenings)


LAST = tightens("8", "Tighten to 12 N·m, then to 24 N·m, in the order 3, 1, 2.", "12 N·m", "24 N·m")
ON = with_torques(
    proc(
        "6.5", "Joining the gear case", "join", "gear case",
        step("4", "Push the cover on by hand. Never draw it on with the screws.", names("cover", "install"),
             names("screws", "other")),
        step("1", "Screw in the guide studs.", names("guide studs", "install", kind=Kind("stud"))),
        step("5", "Remove the guide studs.", names("guide studs")),
        step("6", "Put all screws in by hand.", names("screws", "install", kind=Kind("screw"))),
        step("7", "Position 3 enters from the engine side.", deeds=("other",)),
        step("8", LAST.words, deeds=("tighten",)),
        step("9", "Turn the shaft through two turns.", deeds=("other",)),
    ),
    last=LAST,
)  # fmt: skip


def test_the_joints_own_screws_are_fitted_and_tightened_as_its_section_says() -> None:
    found = fastenings(made_of(OFF, ON), "6.4")
    assert [(one.number, one.mark) for one in found] == [("6.5", "6"), ("6.5", "7"), ("6.5", "8")]
    assert {one.sure for one in found} == {"its own section"}
    assert [torque.words for torque in found[-1].torques] == ["12 N·m", "24 N·m"]


def table(*rows: TorqueRow) -> Machine:
    return replace(made_of(OFF, ON), torques=rows)


@pytest.mark.parametrize(
    ("what", "thread", "cells", "sure"),
    [
        ("Case screws", "M8", "Case screws | M8 x 70 | 24", "its name"),
        ("Gear case bolts", "M8", "Gear case bolts | M8 | 24", "its joint and size"),
        ("Pump-side screws", "M8", "Pump-side screws | M8 x 70 | 24", "its size"),
        ("Screws M8", "M8", "Screws M8 | 24", "its thread"),
        ("M8", "M8", "M8 | 24", "its thread"),
        ("M8 bolts unless otherwise stated", "M8", "M8 bolts unless otherwise stated | 24", "its thread"),
        ("All other screws", "M8", "All other screws | M8 | 24", "its thread"),
        ("M6", "M6", "M6 | 9", ""),
        ("Bolts M8-8.8", "M8", "Bolts M8-8.8 | 24", "its thread"),
        ("Bolts", None, "Bolts | M8 x 1.25-10.9 | 35", "its thread"),
        ("Case screws", "M8", "Case screws | M8-10.9 | 35", "its name"),
        ("Case screws", "M8", "Case screws | M8 x 70-10.9 | 35", "its name"),
        ("Case screws", "M8", "Case screws | M8 x 65-10.9 | 35", ""),
        ("Bolts", "M8", "Bolts | M8 x 70 class 10.9 | 35", "its size"),
        ("Motor bolts", "M8", "Motor bolts | M8 x 35 | 24", ""),
        ("Motor bolts", "M8", "Motor bolts | M8 | 24", ""),
        ("Case screws", "M6", "Case screws | M6 | 9", ""),
        ("Drain plug", "M8", "Drain plug | M8 x 1 | 24", ""),
        ("Case nuts", "M8", "Case nuts | M8 | 24", ""),
    ],
)
def test_lines_of_the_torque_table_say_how_sure_they_are(
    what: str, thread: str | None, cells: str, sure: str
) -> None:
    found = [one for one in fastenings(table(row("t", what, thread, cells)), "6.4") if one.row]
    assert [one.sure for one in found] == ([sure] if sure else [])


def test_a_line_for_another_strength_class_is_not_of_the_screw() -> None:
    screws = names("case screws", kind=replace(M8X70, strength="8.8"))
    off = proc("6.4", "Separating the gear case", "separate", "gear case", step("1", "Remove them.", screws))
    rows = (
        row("t1", "Bolts M8-8.8", "M8", "Bolts M8-8.8 | 24"),
        row("t2", "Bolts M8-10.9", "M8", "Bolts M8-10.9 | 35"),
    )
    made = replace(made_of(off, ON), torques=rows)
    assert [one.row for one in fastenings(made, "6.4") if one.row] == ["t1"]


def test_a_name_of_its_own_goes_before_a_bare_thread() -> None:
    rows = (
        row("t1", "Case screws", "M8", "Case screws | M8 x 70 | 24"),
        row("t2", "Screws M8", "M8", "Screws M8 | 22"),
    )
    assert [one.row for one in fastenings(table(*rows), "6.4") if one.row] == ["t1"]


def test_a_part_whose_torque_is_given_has_a_way_back() -> None:
    drain = proc("2.1", "Draining the oil", "drain", "oil",
                 step("1", "Remove the drain plug.", names("drain plug", kind=Kind("plug"))))  # fmt: skip
    made = replace(
        made_of(drain), torques=(row("t", "Drain plug", "M18x1.5", "Drain plug | M18 x 1.5 | 40 | new ring"),)
    )
    back, problems = way_back(lines_of(made, "2.1"), made)
    assert [(item.part, item.how, item.on_by) for item in back.returns] == [
        ("drain plug", "torque table", ("t",))
    ]
    assert problems == ()
    assert [part.part for part in back.new_parts] == ["ring"]


def test_screws_of_a_required_section_bring_their_line_of_the_table() -> None:
    brake = proc("2.2", "Removing the brake cover", "remove", "brake cover",
                 step("1", "Remove the three screws M8 x 20.", names("screws", count=3, kind=M8X20)),
                 step("2", "Remove the brake cover.", names("brake cover")))  # fmt: skip
    rows = (row("b", "Brake cover screws", "M8", "Brake cover screws | M8 x 20 | 9"),)
    made = replace(made_of(brake, OFF, ON), torques=rows)
    found = fastenings(made, "2.2", "6.4")
    assert [one.number for one in found if not one.row] == ["6.5"] * 3
    (line,) = [one for one in found if one.row]
    assert (line.of, line.sure) == ("book/procedure/2.2", "its joint and size")


def test_without_a_section_that_joins_the_rows_of_the_list_lead_to_the_step() -> None:
    off = proc("6.4", "Separating the gear case", "separate", "gear case",
               step("1", "Remove the screws.", names("screws", count=10, kind=M8X70, row="2/4")))  # fmt: skip
    on = proc("9.1", "Final work", "other", "", step("3", "Tighten the screws crosswise.",
              names("screws", "tighten", kind=M8X70, row="2/4")))  # fmt: skip
    (found,) = fastenings(made_of(off, on), "6.4")
    assert (found.number, found.mark, found.sure) == ("9.1", "3", "its parts row")


def test_one_step_in_reverse_order_is_all_that_its_section_says_of_another_part() -> None:
    """Putting the case together fits the flange too, by one step; the case's screws are not the flange's."""
    words = "Install the drum flange; see 3.2 in reverse order."
    flange = proc("3.2", "Removing the drum flange", "remove", "drum flange",
                  step("1", "Draw it off.", names("drum flange")))  # fmt: skip
    off = proc("6.4", "Separating the gear case", "separate", "gear case",
               step("1", "Take out the stud nut.", names("stud nut", kind=Kind("nut", "M10"))))  # fmt: skip
    on = proc(
        "6.5", "Joining the gear case", "join", "gear case",
        step("1", "Lay on a new seal.", renew=("seal",), deeds=("install",)),
        step("2", "Put all screws in.", names("screws", "install")),
        step("3", words, names("drum flange", "install"), references=reverse_of("3.2", words)),
    )  # fmt: skip
    made = made_of(flange, off, on)
    assert [one.mark for one in fastenings(made, "3.2")] == []
    assert [one.mark for one in fastenings(made, "6.4")] == ["2"]
    back, problems = way_back(lines_of(made, "3.2", "6.4"), made)
    assert {item.part: item.how for item in back.returns}["stud nut"] == "none"
    assert [part.part for part in back.new_parts] == ["seal"]
    assert len(problems) == 1


def test_bolts_of_two_lengths_that_removal_calls_by_one_name_each_have_their_own_torque() -> None:
    """ "Remove the bolts (1), (2)": the long ones at the bearing are not tightened like the short."""
    off = proc("4.3", "Parting the casing", "separate", "casing",
               step("2", "Remove the bolts (1), (2).", names("case bolts", kind=Kind("bolt"))))  # fmt: skip
    rows = (
        row("short", "Case bolt", "M10", "Case bolt | M10 x 50 | 10 | 22"),
        row("long", "Case bolt at bearing", "M10", "Case bolt at bearing | M10 x 90 | 3 | 38"),
    )
    found = fastenings(replace(made_of(off), torques=rows), "4.3")
    assert [(one.row, one.sure) for one in found] == [("short", "its name"), ("long", "its name")]


def test_sizes_that_only_the_fitting_step_names_bring_their_line_of_the_table() -> None:
    off = proc("4.3", "Parting the casing", "separate", "casing",
               step("2", "Remove the bolts (1) and (2).", names("bolts", kind=Kind("bolt"))))  # fmt: skip
    on = proc("4.4", "Joining the casing", "join", "casing",
              step("3", "Fit the three bolts M10 x 90 (2).",
                   names("bolts", "install", count=3, kind=Kind("bolt", "M10", 90.0))))  # fmt: skip
    rows = (row("long", "Bearing bolt", "M10", "Bearing bolt | M10 x 90 | 38"),)
    found = fastenings(replace(made_of(off, on), torques=rows), "4.3")
    assert [(one.row, one.sure) for one in found if one.row] == [("long", "its size")]
