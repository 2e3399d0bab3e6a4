"""Which part of the list a thrown-away part is: by section, by figure, by the number that a set-up prints."""

from msgspec.structs import replace
from small_book import M6X20, machine, names, proc, row, step

from lastbolt.app.make_plan import make_plan
from lastbolt.words.codes import number_behind
from lastbolt.words.job import JOB_SCHEMA, Job, ProcedureDone
from lastbolt.words.machine import Machine, PartsRow, Reference
from lastbolt.words.plan import NewPart

LID = proc("2.1", "Removing the lid", "remove", "lid",
           step("1", "Remove the screws.", names("screws", count=6, kind=M6X20, row="3/1")),
           step("2", "Take the lid off and throw the gasket away.", names("lid", row="3/2"),
                renew=("gasket",)))  # fmt: skip
CASE = proc("4.1", "Separating the case", "separate", "case",
            step("1", "Take the cover off and throw the gasket away.", names("cover"),
                 renew=("gasket",)))  # fmt: skip
LID_FIRST = Reference("book/r/lid", "Lid removed (2.1)", "before", "resolved", ("book/procedure/2.1",))
ROWS = (
    row("3/1", "Screw, lid", 6, M6X20, number="W-301"),
    row("3/2", "Lid", 1, number="W-302"),
    row("3/3", "Gasket, lid", 1, number="W-303", renew=True),
    row("4/3", "Gasket, case", 1, number="W-403", renew=True),
)


def parts(made: Machine, goal: str, *done: str) -> dict[str, NewPart]:
    events = tuple(
        ProcedureDone(id=f"d{n}", by="Ama", procedure=f"book/procedure/{one}") for n, one in enumerate(done)
    )
    plan = make_plan(made, goal, None, Job(JOB_SCHEMA, "j", goal, events=events))
    return {one.part: one for one in plan.way_back.new_parts}


def test_a_section_ticked_whole_still_wants_what_it_threw_away() -> None:
    before = (replace(CASE, before=(LID_FIRST,)),)
    for done in ((), ("2.1",)):
        found = parts(machine(LID, *before, *ROWS), "4.1", *done)
        assert found["lid gasket"].part_numbers == ("W-303",), done
        assert found["case gasket"].part_numbers == ("W-403",), done


def ring(materials: tuple[str, ...], *rows: PartsRow) -> NewPart:
    drain = proc("2.4", "Draining the oil", "drain", "oil",
                 step("1", "Take the drain plug out and throw the sealing ring away.",
                      names("drain plug", row="6/1"), renew=("sealing ring",)),
                 materials=materials)  # fmt: skip
    return next(iter(parts(machine(drain, *rows), "2.4").values()))


RINGS = (
    row("6/2", "Ring, sealing, 18", 1, number="W-602", renew=True),
    row("9/2", "Ring, sealing, 14", 1, number="W-902", renew=True),
)
PLUGS = (row("6/1", "Plug, drain", 1, number="W-601"), row("9/1", "Plug, drain", 1, number="W-901"))


def test_the_number_behind_the_part_in_the_set_up_tells_two_rows_apart() -> None:
    assert ring(("Sealing ring 14 (single use)",), *RINGS).part_numbers == ("W-902",)
    assert ring(("Sealing ring 18 (single use)",), *RINGS).part_numbers == ("W-602",)


def test_else_the_figure_of_the_other_parts_of_the_section_does() -> None:
    assert ring((), *RINGS, *PLUGS).part_numbers == ("W-602",)


def test_two_rows_that_nothing_tells_apart_are_neither() -> None:
    assert ring((), *RINGS).part_numbers == ()
    same = (RINGS[0], replace(RINGS[1], figure="6"))
    assert ring((), *same, *PLUGS).part_numbers == ()


def test_a_part_number_printed_in_the_set_up_is_carried() -> None:
    assert ring(("sealing ring K40-118",)).part_numbers == ("K40-118",)
    assert ring(("gasket K40-118",)).part_numbers == ()


def test_what_looks_like_a_number_and_is_a_size_or_an_oil_is_none() -> None:
    for words in ("engine oil SAE 15W-40", "oil SAE-90", "screw M8-8.8", "O-ring 26 x 2.5", "two E-clips"):
        assert number_behind(words) == "", words
    assert number_behind("ring 4711-22") == "4711-22"
    assert number_behind("ring A-1 or A-2") == ""
    assert number_behind("ring 15W-40", {"15W-40"}) == "15W-40"
