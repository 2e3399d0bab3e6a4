"""New parts that went in are ticked, with who put them in."""

import pytest

from lastbolt.app.new_in import renewed_by
from lastbolt.app.refit_shown import new_parts_shown
from lastbolt.words.back import BACK_SCHEMA, Back
from lastbolt.words.job import JOB_SCHEMA, Event, FoundBad, Job, Renewed
from lastbolt.words.plan import NewPart

GASKET = NewPart("case gasket", rows=("list/row/6/3",), part_numbers=("W-603",))
RING = NewPart("sealing ring")
PARTS = (GASKET, RING)


def by(*events: Event) -> tuple[str, ...]:
    return renewed_by(PARTS, Job(JOB_SCHEMA, "j", "4.1", events=events))


def new(by_: str = "Ama", part: str = "x", row: str = "", part_number: str = "") -> Renewed:
    return Renewed(id=f"r{row}", by=by_, part=part, row=row, part_number=part_number)


@pytest.mark.parametrize(
    ("event", "found"),
    [
        (new(row="list/row/6/3"), ("Ama", "")),
        (new(part_number="W-603"), ("Ama", "")),
        (new(part="Case gasket"), ("Ama", "")),
        (new(part="sealing ring"), ("", "Ama")),
        (new(part="sealing ring", row="list/row/6/15"), ("", "Ama")),
        (new(row="list/row/6/4"), ("", "")),
        (new(part="gasket"), ("", "")),
    ],
)
def test_a_new_part_is_known_by_its_row_its_number_or_its_name(event: Event, found: tuple[str, ...]) -> None:
    assert by(event) == found


def test_one_found_bad_since_is_wanted_again_until_the_next_is_in() -> None:
    bad = FoundBad(id="b", by="Kofi", part="case gasket", how="damaged", row="list/row/6/3")
    assert by(new(row="list/row/6/3"), bad) == ("", "")
    assert by(bad, new(row="list/row/6/3"))[0] == "Ama"
    assert by(new(row="list/row/6/3"), bad, new("Lio", row="list/row/6/3"))[0] == "Lio"


def test_the_sheet_ticks_it_and_names_who_put_it_in() -> None:
    back = Back(BACK_SCHEMA, "4.1", new_parts=PARTS)
    shown = new_parts_shown(back, ("Ama", ""))
    assert [(one.box, one.words, one.aside) for one in shown] == [
        ("x", "case gasket W-603", "in (Ama)"), ("", "sealing ring", ""),
    ]  # fmt: skip
    assert [one.box for one in new_parts_shown(back, ())] == ["", ""]
