"""Consumables with their amounts, and tools with their numbers, in steps and set-up blocks."""

from pathlib import Path

import pytest
from limit_papers import read_paper, table

from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.supplies import consumable_entry, consumables_in, tools_of
from lastbolt.words.measured import Span


@pytest.mark.parametrize(
    ("text", "name", "kind", "amount", "how"),
    [
        ("Apply a thin film of sealant to the joint face.", "sealant", "sealant", None, "thin film"),
        ("Fill in 3.2 l of engine oil SAE 15W-40.", "engine oil SAE 15W-40", "oil", Span(3.2, 3.2, "l"), ""),
        ("Secure it with threadlocker, type 2.", "threadlocker, type 2", "thread lock", None, ""),
        ("Coat the lip of the seal with lithium grease.", "lithium grease", "grease", None, ""),
        ("Wash the parts in cleaning solvent.", "cleaning solvent", "cleaner", None, ""),
        ("Pack the bearing with 15 g of grease.", "grease", "grease", Span(15.0, 15.0, "g"), ""),
    ],
)  # fmt: skip
def test_in_a_step(text: str, name: str, kind: str, amount: Span | None, how: str) -> None:
    (found,) = consumables_in(text, "m/step/1", (), lexicon())
    assert (found.name, found.kind, found.amount, found.how) == (name, kind, amount, how)


@pytest.mark.parametrize(
    "text",
    [
        "Drain the oil.",
        "Remove the oil pump with its gasket.",
        "Wipe off the old sealant with a plastic scraper.",
        "Use a clean tray to catch the oil.",
        "Fit the grease nipple with a new washer.",
        "Lift the oil pan with two people.",
    ],
)
def test_what_comes_out_or_is_a_part_is_none(text: str) -> None:
    assert consumables_in(text, "m/step/1", (), lexicon()) == ()


def test_pints_of_two_countries_are_doubted() -> None:
    """A US pint is 473 ml, an imperial one 568 ml (NIST SP 811, appendix B.8)."""
    (found,) = consumables_in("Fill with 2 pints of gear oil.", "m/step/1", (), lexicon())
    assert found.amount == Span(2.0, 2.0, "pt")
    assert found.doubt


def test_entries_of_a_list() -> None:
    oil = consumable_entry("Engine oil SAE 15W-40, 3.2 l", "m/c1", ())
    assert oil is not None
    assert (oil.name, oil.amount) == ("Engine oil SAE 15W-40", Span(3.2, 3.2, "l"))
    assert consumable_entry("Oil pump gasket", "m/c2", ()) is None
    assert consumable_entry("Gasket, new", "m/c3", ()) is None


@pytest.mark.parametrize(
    ("said", "tools"),
    [
        ("special tool 117.04", [("special tool", "117.04")]),
        ("Puller (T-204)", [("Puller", "T-204")]),
        ("117.04 Flywheel puller", [("Flywheel puller", "117.04")]),
        ("Guide mandrel, tool no. 4032", [("Guide mandrel", "4032")]),
        ("Q-04, Q-07", [("", "Q-04"), ("", "Q-07")]),
        ("puller T-14 guide mandrel T-30", [("puller", "T-14"), ("guide mandrel", "T-30")]),
        ("socket 24 mm", []),
        ("torque wrench 40 to 200 N·m", []),
        ("hex key M6", []),
        ("chisel", []),
    ],
)
def test_numbers_of_tools(said: str, tools: list[tuple[str, str]]) -> None:
    assert [(tool.name, tool.number) for tool in tools_of([said], "m", ())] == tools


def test_in_a_paper_with_their_places(tmp_path: Path) -> None:
    paper = """= 3 Clutch
== 3.1 Removing the clutch
Tools: puller T-204; socket 24 mm

Materials: sealant, 10 g

1. Remove the nut with special tool 117.04.

2. Measure the lining and replace it if thinner than 2.8 mm.

3. Coat the shaft with engine oil."""
    (procedure,) = read_paper(paper, tmp_path).procedures
    assert [(tool.name, tool.number) for tool in procedure.numbered_tools] == [("puller", "T-204")]
    assert [(one.name, one.amount) for one in procedure.consumables] == [("sealant", Span(10.0, 10.0, "g"))]
    nut, lining, shaft = procedure.steps
    assert nut.numbered_tools[0].number == "117.04"
    assert lining.limits[0].limit_mm == (2.8, None)
    assert shaft.consumables[0].kind == "oil"
    for fact, step in (
        (nut.numbered_tools[0], nut),
        (lining.limits[0], lining),
        (shaft.consumables[0], shaft),
    ):
        assert fact.citations[0].place == step.citations[0].place


@pytest.mark.parametrize("ruled", [True, False])
def test_a_table_of_special_tools(ruled: bool, tmp_path: Path) -> None:
    cells = """[Tool no.], [Name], [Used for], [T-204], [Flywheel puller], [Flywheel],
      [117.04], [Guide mandrel], [Shaft seal]"""
    machine = read_paper(table(3, cells, ruled=ruled, title="Special tools"), tmp_path)
    assert [(tool.number, tool.name, tool.used_for) for tool in machine.tools] == [
        ("T-204", "Flywheel puller", "Flywheel"), ("117.04", "Guide mandrel", "Shaft seal")
    ]  # fmt: skip
    assert machine.tools[0].citations[0].place.pdf_page == 1  # type: ignore[union-attr]


def test_a_table_of_consumables(tmp_path: Path) -> None:
    cells = """[Lubricant], [Used for], [Amount, l], [Engine oil SAE 30], [Engine], [1.2],
      [Gear oil], [Gearcase], [0,45], [Grease], [Seals], [thin film]"""
    machine = read_paper(table(3, cells, ruled=True, title="Filling"), tmp_path)
    assert [(one.name, one.kind, one.amount, one.how) for one in machine.consumables] == [
        ("Engine oil SAE 30", "oil", Span(1.2, 1.2, "l"), ""),
        ("Gear oil", "oil", Span(0.45, 0.45, "l"), ""),
        ("Grease", "grease", None, "thin film"),
    ]
