"""One parts list in two forms is one list."""

from msgspec.structs import replace

from lastbolt.reading.fasteners import read_kind
from lastbolt.reading.witnesses import merged_rows
from lastbolt.words.citation import CellPlace, Citation, PdfPlace
from lastbolt.words.machine import PartsRow
from lastbolt.words.quantity import exactly

TITLES = {"pdf": "Parts list", "csv": "parts.csv"}


def row(source: str, item: str, count: int, number: str = "10-200", name: str = "Screw M6 x 45") -> PartsRow:
    place = PdfPlace(3) if source == "pdf" else CellPlace(7)
    cited = (Citation(source, place, name),)
    return PartsRow(
        f"{source}/row/3/{item}",
        source,
        "3",
        item,
        number,
        name,
        exactly(count, str(count)),
        read_kind(name),
        citations=cited,
    )


def test_same_row_keeps_both_witnesses():
    kept, problems = merged_rows([row("pdf", "2", 4), row("csv", "2", 4, "10 200")], TITLES)
    assert [len(r.citations) for r in kept] == [2]
    assert problems == []


def test_other_count_is_a_problem_and_a_doubt():
    kept, problems = merged_rows([row("pdf", "2", 4), row("csv", "2", 5)], TITLES)
    assert [p.code for p in problems] == ["LB-R12"]
    assert "4" in kept[0].doubt
    assert "5" in kept[0].doubt
    assert [r.quantity.low for r in kept] == [4, 5]


def test_a_third_form_joins_the_row_it_agrees_with():
    third = row("xml", "2", 5)
    kept, problems = merged_rows([row("pdf", "2", 4), row("csv", "2", 5), third], TITLES)
    assert [(r.quantity.low, len(r.citations)) for r in kept] == [(4, 1), (5, 2)]
    assert [p.code for p in problems] == ["LB-R12"]


def test_the_same_item_of_two_lists_without_figures_is_one_row_only_by_its_part_number():
    def bare(source: str, number: str) -> PartsRow:
        return replace(row(source, "3", 4, number), figure="")

    assert len(merged_rows([bare("pdf", "W-1"), bare("csv", "W-1")], TITLES)[0]) == 1
    assert len(merged_rows([bare("pdf", ""), bare("csv", "W-1")], TITLES)[0]) == 2


def test_other_size_is_a_problem():
    _, problems = merged_rows([row("pdf", "2", 4), row("csv", "2", 4, name="Screw M6 x 40")], TITLES)
    assert [p.code for p in problems] == ["LB-R12"]


def test_other_part_number_is_another_row():
    kept, _ = merged_rows([row("pdf", "2", 4), row("csv", "2", 4, "10-201")], TITLES)
    assert len(kept) == 2


def test_rows_of_one_source_are_never_merged():
    kept, _ = merged_rows([row("pdf", "2", 4), row("pdf", "2", 4)], TITLES)
    assert len(kept) == 2
