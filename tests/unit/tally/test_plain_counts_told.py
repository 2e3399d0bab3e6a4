"""Which counts are told to differ: only where each source gives one plain number."""

from lastbolt.tally.wording_counts import counts_in_short, differing_counts
from lastbolt.words.counts import CountSaid, CountTable, InTray, SizeCounts, SourceCounts


def table(*sizes: SizeCounts) -> CountTable:
    return CountTable((), (), sizes=sizes)


def said(number: int, *, may: bool = False) -> CountSaid:
    return CountSaid(str(number), number, may)


def test_two_rows_of_one_size_are_no_plain_number_even_if_one_may_be_anothers() -> None:
    both = SourceCounts("parts list", (said(3, may=True), said(3)))
    counts = SizeCounts("screw M5x20", (both,), steps=(said(1),), places=1, seen_out=0)
    assert differing_counts(table(counts)) == ""


def test_what_differs_is_told_with_the_tray_last() -> None:
    listed = SourceCounts("Parts list", (said(9),))
    counts = SizeCounts(
        "screw M8x45", (listed,), places=9, seen_out=8, tray=(InTray(7, "Kim, L."),), engine=(8,)
    )
    told = "The counts: screw M8x45: parts list 9, engine file 8, seen out 8, tray 7."
    assert differing_counts(table(counts)) == told
    assert counts_in_short(table(counts), ()) == "screw M8x45: parts list 9, tray 7, engine file 8"


def test_heads_only_are_not_compared() -> None:
    listed = SourceCounts("Parts list", (said(9),))
    assert (
        differing_counts(table(SizeCounts("nut M8", (listed,), tray=(InTray(7, "Bo", whole=False),)))) == ""
    )
