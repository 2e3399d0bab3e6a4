"""What this engine should have per size: papers, less what is missing, plus or minus what was exchanged."""

import pytest

from lastbolt.app.counts_shown import Counted, counts_shown
from lastbolt.app.pages import SizeShown
from lastbolt.words.answer import PlaceState
from lastbolt.words.counts import CountSaid, CountTable, InTray, SizeCounts, SourceCounts
from lastbolt.words.engine import ENGINE_SCHEMA, AsFound, Engine
from lastbolt.words.machine import MODEL_SCHEMA, Machine, PartsRow
from lastbolt.words.quantity import UNSAID, Kind

LONG, SHORT = Kind("bolt", "M10", 80.0), Kind("bolt", "M10", 70.0)
MACHINE = Machine(
    MODEL_SCHEMA,
    "m",
    rows=tuple(
        PartsRow(row, "list", "1", row, "", "Bolt", UNSAID, kind)
        for row, kind in (("r1", LONG), ("r2", SHORT))
    ),
)
LABELS = {"p1": "1", "p2": "2", "p3": "3"}


def engine(*facts: AsFound) -> Engine:
    return Engine(ENGINE_SCHEMA, "e", "4", as_found=facts)


def counts(
    size: str = "bolt M10x80", listed: int = 0, table: int = 0, *, may: bool = False, **more: object
) -> SizeCounts:
    """The counts of a size; 0: the list, or the table, says nothing of it."""
    printed = tuple(
        SourceCounts(source, (CountSaid(str(number), number, may),))
        for source, number in (("List", listed), ("Table", table))
        if number
    )
    return SizeCounts(size, printed, **more)  # type: ignore[arg-type]


def counted(*sizes: SizeCounts, facts: tuple[AsFound, ...] = ()) -> Counted:
    return counts_shown(CountTable((), (), sizes=sizes), MACHINE, engine(*facts), LABELS)


def one(size: SizeCounts, facts: tuple[AsFound, ...] = ()) -> SizeShown:
    return counted(size, facts=facts).sizes[0]


MISSING = (
    AsFound("missing", "", place="p1", line="r1", kind=LONG),
    AsFound("missing", "", place="p2", line="r1"),
)
ODD = AsFound("odd length", "", place="p3", line="r1", kind=SHORT)


def test_known_missing_and_exchanged_are_taken_off_what_the_papers_say() -> None:
    shown = one(
        counts(listed=8, places=8, seen_out=8, tray=(InTray(5, "Ana"),), engine=(5,)), (*MISSING, ODD)
    )
    assert shown.expected == "5"
    assert shown.because == "List 8; less 2 known missing (at 1, 2); less 1 exchanged for bolt M10x70 (at 3)"
    assert shown.seen == "tray 5 (Ana); empty: 8 of 8 places"
    assert not shown.differs


def test_what_was_exchanged_is_expected_at_its_own_size() -> None:
    shown = one(counts("bolt M10x70", places=1, seen_out=0, engine=(1,)), (ODD,))
    assert (shown.expected, shown.because) == ("1", "1 in place of bolt M10x80 (at 3)")


def test_an_extra_piece_is_added_to_what_the_papers_list() -> None:
    extra = AsFound("extra", "", kind=LONG)
    assert one(counts(listed=4, places=4, seen_out=4, engine=(1,)), (extra,)).expected == "5"


def test_papers_that_differ_leave_both_numbers_and_are_told_with_them() -> None:
    told = counted(counts(listed=3, table=2, tray=(InTray(3, "Ana"),)))
    assert told.sizes[0].expected == "2 or 3"
    assert told.papers_differ == ("Bolt M10x80: the papers do not agree: List 3, Table 2.",)


def test_every_size_that_differs_is_told() -> None:
    rows = (counts(f"bolt M10x{n}", listed=3, table=2) for n in range(40, 52))
    told = counted(*rows).papers_differ
    assert told == tuple(f"Bolt M10x{n}: the papers do not agree: List 3, Table 2." for n in range(40, 52))


def test_a_tray_with_another_number_than_expected_is_told_before_the_papers() -> None:
    told = counted(
        counts(listed=3, table=2),
        counts("bolt M10x70", listed=4, tray=(InTray(3, "Bo"),)),
    )
    assert told.sizes[1].differs
    assert told.seen_otherwise == ("Bolt M10x70: 4 expected on this engine, in the tray 3 (Bo).",)


def test_heads_only_or_some_trays_are_no_disagreement() -> None:
    assert not one(counts(listed=4, tray=(InTray(3, "Bo", all_trays=False),))).differs
    assert not one(counts(listed=4, tray=(InTray(3, "Bo", whole=False),))).differs


@pytest.mark.parametrize("name", ["Bo (early shift)", "Kim, L.", "7 (Ann)", "Bo; 4 (Cy)"])
def test_whatever_a_name_is_made_of_the_tray_differs(name: str) -> None:
    told = counted(counts(listed=4, tray=(InTray(3, name),)))
    assert told.sizes[0].differs
    assert told.seen_otherwise == (f"Bolt M10x80: 4 expected on this engine, in the tray 3 ({name}).",)


def test_what_only_fits_by_size_is_no_expectation() -> None:
    told = counted(counts(listed=4, may=True, steps=(CountSaid("4", 4),)))
    assert told.sizes == ()
    assert told.notes == (
        "Not counted here, because only their size fits this joint: bolt M10x80 (List 4, Manual steps 4).",
    )


def test_what_only_fits_by_size_but_lies_in_the_tray_is_shown() -> None:
    assert one(counts(listed=4, may=True, tray=(InTray(2, "Ana"),))).seen == "tray 2 (Ana)"


def test_a_count_that_is_no_plain_number_is_not_made_one() -> None:
    listed = (SourceCounts("List", (CountSaid("2 to 4"),)),)
    shown = one(SizeCounts("bolt M10x80", listed, tray=(InTray(3, "Ana"),)))
    assert (shown.expected, shown.because, shown.differs) == ("not said", "List 2 to 4", False)


def test_places_that_are_not_empty_and_those_empty_for_years_are_named() -> None:
    places = {
        "bolt M10x80": (
            PlaceState("p1", "1", "out", "", True, never_there=True),
            PlaceState("p2", "2", "out", "", True),
            PlaceState("p3", "3", "not seen", "", False),
        )
    }
    row = counts(listed=3, places=3, seen_out=2, tray=(InTray(1, "Ana"),))
    table = CountTable((), (), sizes=(row,))
    (shown,) = counts_shown(table, MACHINE, engine(), LABELS, places).sizes
    assert shown.seen == "tray 1 (Ana); empty: 2 of 3 places, 1 of them for years (1); not shown: 3"
