"""Editions under other file names, numbers in words, tables and what rests on them."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from lastbolt.cli.main import main
from lastbolt.comparing.editions import compare
from lastbolt.edge import documents
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import (
    Machine,
    Mention,
    PartsRow,
    Procedure,
    Reference,
    Section,
    Source,
    Step,
    TableRow,
    TorqueRow,
    TorqueValue,
)
from lastbolt.words.quantity import Kind, exactly


def edition(file: str, *, torque: float = 25, count: str = "twelve", item: int = 4, row: int = 12) -> Machine:
    """One winch manual and its list, as read from files whose names begin with `file`."""
    manual, parts = f"{file}-manual", f"{file}-parts"
    numbers = {"twelve": 12, "fourteen": 14}

    def at(page: int, top: float, words: str = "") -> tuple[Citation, ...]:
        return (Citation(manual, PdfPlace(page, None, (0.1, top, 0.9, top + 0.02)), words),)

    to_table = Reference("r", "as in Table 4-1", "see", "resolved", (f"{manual}/section/4.2",))
    screws = Mention("screws", quantity=exactly(numbers[count], count), rows=(f"{parts}/row/{item}",))
    steps = (
        Step(f"{manual}/step/3.4/1", "1", f"Remove the {count} screws round the flange.", mentions=(screws,)),
        Step(f"{manual}/step/3.4/2", "2", "Tighten as in Table 4-1.", references=(to_table,)),
        Step(f"{manual}/step/3.4/3", "3", "Tighten the plug, see table 4 - 1."),
    )
    kind = Kind("screw", "M8", 40.0)
    return Machine(
        "lastbolt.model/1",
        "winch",
        sources=(Source(manual, manual, "manual", "x"), Source(parts, parts, "parts list", "x")),
        sections=(
            Section(f"{manual}/section/4", "4", "Data", 1, citations=at(7, 0.05)),
            Section(
                f"{manual}/section/4.2", "4.2", "Torques", 2, None, "table", at(7, 0.2), "Table 4-1: Torques"
            ),
            Section(f"{manual}/section/4.3", "4.3", "Oil", 2, citations=at(7, 0.8)),
        ),
        procedures=(Procedure(f"{manual}/procedure/3.4", "3.4", "Parting the housing", steps=steps),),
        rows=(
            PartsRow(f"{parts}/row/{item}", parts, "1", str(item), "N-08040", "Screw", exactly(row), kind),
        ),
        torques=(
            TorqueRow(
                f"{manual}/torque/housing",
                "Housing screws",
                TorqueValue((torque, torque), ((torque, torque, "N·m"),)),
                "M8",
                at(7, 0.3, f"Housing screws | M8 | {torque:g}"),
            ),
        ),
    )


def test_the_same_edition_under_another_file_name_has_no_changes() -> None:
    found = compare(edition("old"), edition("2nd"))
    assert (found.changes, found.renumbered) == ((), ())


def test_a_torque_stands_first_and_leads_to_the_steps_that_refer_to_its_table() -> None:
    found = compare(edition("old"), edition("new", torque=28, row=14))
    first, second = found.changes
    assert (first.about, first.was, first.now) == ("torque table", "25 N·m for M8", "28 N·m for M8")
    assert first.steps_called == ("3.4 step 2", "3.4 step 3")
    assert (second.about, second.steps_called) == ("parts row", ("3.4 step 1",))


def test_a_remark_beside_a_torque_that_comes_is_told() -> None:
    old, new = edition("old"), edition("new")
    row = new.torques[0]
    cited = (replace(row.citations[0], words=f"{row.citations[0].words} | threadlock"),)
    (change,) = compare(old, replace(new, torques=(replace(row, citations=cited),))).changes
    assert change.now.endswith("threadlock")


def test_a_number_in_words_is_told_once() -> None:
    (change,) = compare(edition("old"), edition("new", count="fourteen")).changes
    assert (change.about, change.was, change.now) == ("quantity", "12 x screws", "14 x screws")


def test_an_item_that_only_moved_is_told_as_that() -> None:
    found = compare(edition("old"), edition("new", item=5))
    assert found.changes == ()
    assert found.renumbered == (("figure 1 item 4", "figure 1 item 5"),)


def test_a_row_put_in_between_does_not_make_the_next_ones_others() -> None:
    def listed(*names: str) -> Machine:
        rows = tuple(
            PartsRow(f"p/{i}", "p", "1", str(i), f"N-{name}", name, exactly(1))
            for i, name in enumerate(names, 1)
        )
        return Machine("lastbolt.model/1", "winch", rows=rows)

    found = compare(listed("Bolt", "Cover", "Shaft"), listed("Bolt", "Ring", "Cover", "Shaft"))
    assert [(c.kind, c.what) for c in found.changes] == [("new", "figure 1 item 2, Ring")]
    assert found.renumbered == (
        ("figure 1 item 2", "figure 1 item 3"),
        ("figure 1 item 3", "figure 1 item 4"),
    )


def test_a_table_of_fasteners_is_compared() -> None:
    def with_row(count: int, positions: str) -> Machine:
        row = TableRow(
            "m/t/1",
            "m",
            "Table 6-2",
            "Screw",
            exactly(count),
            Kind("screw", "M8", 45.0),
            "6",
            positions=positions,
        )
        return Machine("lastbolt.model/1", "winch", bolt_rows=(row,))

    (change,) = compare(with_row(9, "1 to 9"), with_row(10, "1 to 10")).changes
    assert (change.was, change.now) == ("9 x screw M8x45, at 1 to 9", "10 x screw M8x45, at 1 to 10")


def test_fields_that_nobody_reads_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    old, new = tmp_path / "old.json", tmp_path / "new.json"
    documents.save(old, edition("old"))
    documents.save(new, edition("old"))
    text = new.read_text(encoding="utf-8").replace('"what": "Housing', '"torque_Nmm": 28, "what": "Housing')
    new.write_text(text.replace('"name": "winch"', '"name": "winch", "name": "winch"'), encoding="utf-8")
    assert main(["changes", str(old), str(new)]) == 1
    said = capsys.readouterr().out
    assert "was not compared" in said
    assert '"torque_Nmm"' in said
    assert '"name"' in said
    assert main(["changes", str(old), str(new), "--json"]) == 1
    assert [problem["code"] for problem in json.loads(capsys.readouterr().out)["problems"]] == ["LB-T20"] * 2
