"""Parts to order: every reason leads to one line, with the newest number; a price is read one way or not."""

import csv
import io
from pathlib import Path

import openpyxl
import pytest
from msgspec.structs import replace
from small_book import M8X20, machine, names, proc, row, step

from lastbolt.app.make_back import make_back
from lastbolt.app.make_plan import make_plan
from lastbolt.edge.order_files import order_file
from lastbolt.ordering.order_list import Work, order_list
from lastbolt.ordering.prices import newest, price_of, prices_of
from lastbolt.ordering.said_count import said_count
from lastbolt.refitting.account import account
from lastbolt.words.engine import ENGINE_SCHEMA, AsFound, Engine
from lastbolt.words.job import JOB_SCHEMA, Event, FoundBad, Job, Renewed, StepDone
from lastbolt.words.machine import PartsRow
from lastbolt.words.order import Order, OrderLine, Price
from lastbolt.words.problem import Refusal
from lastbolt.words.quantity import Kind
from lastbolt.words.sheet import Sheet, SheetRow
from lastbolt.words.supplies import Consumable

COVER = proc("4.1", "Removing the cover", "separate", "cover",
             step("1", "Remove the four case screws.", names("case screws", count=4, kind=M8X20, row="2/1")),
             step("2", "Take the cover off and throw the gasket away.", names("cover", row="2/2"),
                  names("gasket", row="2/3"), renew=("gasket",)),
             step("3", "Take the shaft seal out.", names("shaft seal", row="2/4")))  # fmt: skip
ROWS = (
    row("2/1", "Screw, case", 4, M8X20, number="W-201"),
    row("2/2", "Cover", 1, number="W-202"),
    row("2/3", "Gasket", 1, number="W-203"),
    row("2/4", "Seal, shaft", 2, number="W-204"),
)
APART = tuple(StepDone(id=f"a{n}", by="Ama", step=f"book/step/4.1/{n}") for n in (1, 2, 3))


def order_of(
    *events: Event,
    rows: tuple[PartsRow, ...] = ROWS,
    engine: Engine | None = None,
    prices: dict[str, Price] | None = None,
) -> Order:
    made = machine(COVER, *rows)
    job = Job(JOB_SCHEMA, "j", "4.1", events=events)
    plan = make_plan(made, "4.1", engine, job)
    back = make_back(made, plan, job)
    return order_list(Work(made, plan, back, account(plan, back, (), engine, job), engine, job), prices)


def lines(order: Order) -> dict[str, OrderLine]:
    return {line.part_number or line.name: line for line in order.lines}


def test_what_the_source_throws_away_is_ordered_as_often_as_it_is_in_the_figure() -> None:
    found = lines(order_of())
    assert found["W-203"].count == 1
    assert [one.because for one in found["W-203"].reasons] == ["single use"]
    assert "W-202" not in found


def test_a_seal_that_came_off_is_proposed_as_common_practice() -> None:
    found = lines(order_of(*APART))["W-204"]
    assert found.count == 2
    assert "common practice" in found.reasons[0].words
    assert "W-204" not in lines(order_of())


@pytest.mark.parametrize("how", ["lost", "damaged", "beyond limit"])
def test_what_was_found_bad_is_ordered_with_who_found_it(how: str) -> None:
    bad = FoundBad(id="b", by="Kofi", part="Cover", how=how)  # type: ignore[arg-type]
    found = lines(order_of(*APART, bad))["W-202"]
    assert (found.count, found.reasons[0].because, found.reasons[0].by) == (1, how, "Kofi")


def test_two_reasons_for_one_part_are_one_line_and_their_counts_add() -> None:
    engine = Engine(
        ENGINE_SCHEMA, "e", "no. 3", as_found=(AsFound("missing", "two gone", line="list/row/2/1", count=2),)
    )
    lost = FoundBad(id="b", by="Kofi", part="case screws", how="lost", row="list/row/2/1")
    found = lines(order_of(*APART, lost, engine=engine))["W-201"]
    assert found.count == 3
    assert {one.because for one in found.reasons} == {"lost", "missing"}


def test_a_part_is_found_in_the_list_by_its_name_in_the_plural_too() -> None:
    assert (
        lines(order_of(*APART, FoundBad(id="b", by="Kofi", part="covers", how="damaged")))["W-202"].count == 1
    )


def test_a_part_that_no_list_has_is_ordered_by_name_and_asks() -> None:
    found = lines(order_of(*APART, FoundBad(id="b", by="Kofi", part="filler cap", how="lost")))["filler cap"]
    assert "No part number" in found.doubt


def test_the_newest_number_is_ordered_and_the_old_one_named() -> None:
    prices = {"W-203": Price("W-203", None, "W-203A"), "W-203A": Price("W-203A", 4.5)}
    found = lines(order_of(prices=prices))["W-203A"]
    assert (found.replaces, found.price) == (("W-203",), 4.5)


@pytest.mark.parametrize(
    ("remark", "number"),
    [
        ("superseded by W-303", "W-303"), ("Replaced by: W-303.", "W-303"), ("use W-204", "W-204"),
        ("use 2 per side", "W-203"), ("now 5 mm thick", "W-203"), ("", "W-203"),
    ],
)  # fmt: skip
def test_a_remark_names_the_newer_number_and_nothing_else_does(remark: str, number: str) -> None:
    rows = tuple(replace(one, remarks=remark) if one.part_number == "W-203" else one for one in ROWS)
    found = [line.part_number for line in order_of(rows=rows).lines]
    assert number in found


def test_numbers_that_run_in_a_circle_are_told_and_none_of_them_is_taken_for_the_newest() -> None:
    prices = {"W-203": Price("W-203", 1.0, "W-999"), "W-999": Price("W-999", 1.0, "W-203")}
    order = order_of(prices=prices)
    assert "circle" in lines(order)["W-203"].doubt
    assert [one.code for one in order.problems] == ["LB-O04"]
    assert newest("W-203", prices, {}) == (("W-203", "W-999"), True)


def renewed(count: int = 1, part: str = "new one", row: str = "", part_number: str = "") -> Renewed:
    return Renewed(id=f"r{count}{row}", by="Ama", count=count, part=part, row=row, part_number=part_number)


@pytest.mark.parametrize(
    "new", [renewed(row="list/row/2/3"), renewed(part_number="w-203"), renewed(part="Gasket")]
)
def test_what_was_renewed_is_not_ordered_again(new: Renewed) -> None:
    assert "W-203" in lines(order_of(*APART))
    assert "W-203" not in lines(order_of(*APART, new))
    assert "W-203" in lines(order_of(*APART, renewed(row="list/row/2/4")))


def test_of_several_only_the_rest_is_ordered_and_a_new_one_found_bad_again() -> None:
    lost = FoundBad(id="b", by="Kofi", part="case screws", how="lost", row="list/row/2/1", count=3)
    one, three = renewed(1, row="list/row/2/1"), renewed(3, row="list/row/2/1")
    again = FoundBad(id="b2", by="Kofi", part="case screws", how="damaged", row="list/row/2/1", count=1)
    assert lines(order_of(*APART, lost, one))["W-201"].count == 2
    assert "W-201" not in lines(order_of(*APART, lost, three))
    assert lines(order_of(*APART, lost, three, again))["W-201"].count == 1
    assert lines(order_of(*APART, lost, one, again))["W-201"].count == 3
    assert "W-201" not in lines(order_of(*APART, lost, three, again, one))


M8X25 = Kind("screw", "M8", 25.0)


def odd(place: str, belongs: str, there: Kind) -> AsFound:
    return AsFound("odd length", f"another length at {place}", place=place, line=belongs, count=1, kind=there)


def test_an_odd_length_wants_the_right_one_beside_those_that_are_missing() -> None:
    missing = AsFound("missing", "gone at 2", place="p2", line="list/row/2/1", count=1)
    engine = Engine(ENGINE_SCHEMA, "e", "no. 3", as_found=(missing, odd("p1", "list/row/2/1", M8X25)))
    found = lines(order_of(*APART, engine=engine))["W-201"]
    assert (found.count, [one.because for one in found.reasons]) == (2, ["missing", "odd length"])


def test_two_lengths_that_were_exchanged_want_nothing_new() -> None:
    longer = row("2/5", "Screw, long", 1, M8X25, number="W-205")
    both = (odd("p1", "list/row/2/1", M8X25), odd("p2", "list/row/2/5", M8X20))
    for facts, numbers in ((both, set()), (both[:1], {"W-201"}), (both[1:], {"W-205"})):
        engine = Engine(ENGINE_SCHEMA, "e", "no. 3", as_found=facts)
        found = lines(order_of(*APART, rows=(*ROWS, longer), engine=engine))
        assert {"W-201", "W-205"} & set(found) == numbers


def test_a_proposed_seal_has_the_page_of_the_step_that_takes_it_off() -> None:
    assert lines(order_of(*APART))["W-204"].reasons[0].citations


def test_a_consumable_is_ordered_with_the_number_that_its_section_prints_until_it_was_used() -> None:
    seal = replace(step("1", "Lay on a bead of sealant."), consumables=(Consumable("c", "sealant"),))
    on = proc("4.2", "Fitting the cover", "join", "cover", seal, materials=("sealant K-120",))
    made = machine(COVER, on)
    made = replace(made, procedures=tuple(
        replace(p, steps=tuple(replace(s, consumables=seal.consumables) if p.number == "4.2" else s
                               for s in p.steps)) for p in made.procedures))  # fmt: skip

    def found(*events: Event) -> list[OrderLine]:
        job = Job(JOB_SCHEMA, "j", "4.1", events=events)
        plan = make_plan(made, "4.1", None, job)
        back = make_back(made, plan, job)
        order = order_list(Work(made, plan, back, account(plan, back, (), None, job), None, job))
        return [line for line in order.lines if line.reasons[0].because == "consumable"]

    assert [(one.name, one.part_number) for one in found(*APART)] == [("sealant", "K-120")]
    assert found(*APART, StepDone(id="l", by="Ama", step="book/step/4.2/1")) == []


@pytest.mark.parametrize(
    ("words", "part", "count"),
    [
        ("Fit the plug with a new sealing ring.", "sealing ring", 1),
        ("Throw the gasket away.", "gasket", 1), ("Fit two new gaskets.", "gasket", 2),
        ("Throw the gaskets away.", "gasket", None), ("Use new gaskets.", "gasket", None),
        ("Fit a new ring.", "gasket", None), ("", "gasket", None), ("Fit a new ring.", "18", None),
    ],
)  # fmt: skip
def test_the_words_before_a_part_say_how_many(words: str, part: str, count: int | None) -> None:
    assert said_count(words, part) == count


@pytest.mark.parametrize(
    ("said", "price"),
    [
        ("12.50", 12.5), ("12,50", 12.5), ("1.234,50", 1234.5), ("1,234.50", 1234.5), ("1'234.50", 1234.5),
        ("€ 7", 7.0), ("1 234,50", 1234.5), ("1,234", None), ("1.234", None),
        ("on request", None), ("", None),
        ("12.50 / 10", None), ("1.2.3,4,5", None),
    ],
)  # fmt: skip
def test_a_price_that_could_be_read_two_ways_is_none(said: str, price: float | None) -> None:
    assert price_of(said) == price


def test_a_price_list_that_names_a_number_twice_and_differently_gives_no_price() -> None:
    sheet = Sheet(("Part no.", "Price"), (SheetRow(2, ("W-1", "3.00")), SheetRow(3, ("w-1", "4.00"))), ())
    found, problems = prices_of(sheet, "prices.csv")
    assert found["W-1"].price is None
    assert [(one.code, one.where) for one in problems] == [("LB-O03", "prices.csv, line 3")]


def test_a_price_list_without_numbers_is_one_problem() -> None:
    found, problems = prices_of(Sheet(("A", "B"), (SheetRow(2, ("x", "y")),), ()), "prices.csv")
    assert (found, [one.code for one in problems]) == ({}, ["LB-O01"])


def test_no_cell_of_a_file_is_a_formula() -> None:
    bad = FoundBad(id="b", by="=1+1", part='=HYPERLINK("x")', how="lost")
    order = order_of(bad)
    rows = list(csv.reader(io.StringIO(order_file(order, Path("o.csv"), "").decode("utf-8-sig"))))
    assert not any(cell.startswith(("=", "+", "-", "@")) for one in rows for cell in one)
    assert any("HYPERLINK" in cell for one in rows for cell in one)
    sheet = openpyxl.load_workbook(io.BytesIO(order_file(order, Path("o.xlsx"), ""))).active
    assert sheet is not None
    assert not any(cell.data_type == "f" for line in sheet.iter_rows() for cell in line)
    assert order_file(order, Path("o.pdf"), "").startswith(b"%PDF")
    with pytest.raises(Refusal, match="LB-O05"):
        order_file(order, Path("o.doc"), "")
