"""Each correction changes just its own fact, says who made it, and is an orphan where other words stand."""

import pytest
from msgspec.structs import replace

from lastbolt.app.put_right import put_right
from lastbolt.correcting.facts import Fact, facts_of
from lastbolt.words.citation import PdfPlace, SaidPlace
from lastbolt.words.corrections import (
    CORRECTIONS_SCHEMA,
    AsksNothing,
    Confirmed,
    Correction,
    Corrections,
    CountReads,
    LeadsTo,
    LimitReads,
    NotAStep,
    RowReads,
    StepMissing,
    StepReads,
    TorqueReads,
    Withdrawn,
)
from lastbolt.words.machine import (
    Caution,
    Machine,
    Mention,
    PageSeen,
    PartsRow,
    Source,
    TorqueRow,
    TorqueValue,
)
from lastbolt.words.measured import Limit, Span
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import Kind, exactly
from planned import machine, page, proc, ref, step

NINE = TorqueValue((9.0, 9.0), ((9.0, 9.0, "N·m"),), words="9 N·m")
THREE = Mention("bolts", "remove", exactly(3, "three"), Kind("bolt", "M6"))
ROW = PartsRow(
    "m/row/1/2", "m", "1", "2", "K-2", "Screw M8 x 7O", exactly(2), None,
    doubt="a size?", unknown=True, citations=page(5, "2 | K-2 | Screw M8 x 7O | 2"),
)  # fmt: skip
DISC = Limit(
    "m/limit/disc", "Disc", limit=Span(None, 4.0, "mm"), doubt="a blot", citations=page(6, "Disc | 4")
)
LOST = Problem("LB-R03", '"see r1" leads nowhere', "m, PDF page 7", "Look.", citations=page(7, "see r1"))
MADE = machine(
    proc(
        "9.1",
        step("1", ref("r1", status="dangling"), mentions=(THREE,)),
        step("2", torques=(NINE,), doubt="two deeds"),
        step("3", cautions=(Caution("warning", "Hot."),)),
        before=(ref("r2", "3.3", status="doubtful"),),
    ),
    proc("3.3", "1"),
    proc("4.4", "1"),
    sources=(Source("m", "Manual", "manual", "maker", file="m.pdf", sha256="ab" * 32, pages=9),),
    rows=(ROW,),
    torques=(TorqueRow("m/torque/nut", "Nut", NINE, citations=page(6, "Nut | 9")),),
    limits=(DISC,),
    pages=(PageSeen("m", 4, "4-4", "unexplained", why="a table"),),
    problems=(LOST,),
)


def fact(identity: str, made: Machine = MADE) -> Fact:
    return next(one for one in facts_of(made) if one.id == identity)


def about(kind: type, identity: str, own: str = "c1", /, **more: object) -> Correction:
    """A correction of a fact by Ann, as the page of corrections writes it."""
    said = fact(identity)
    given = {
        "id": own,
        "fact": identity,
        "saw": said.saw,
        "read_as": said.seen,
        "by": "Ann",
        "at": "2026-11-30T09:00",
    }
    made: Correction = kind(**{**given, **more})
    return made


def righted(*corrections: Correction, made: Machine = MADE) -> Machine:
    result = put_right(made, Corrections(CORRECTIONS_SCHEMA, "", corrections))
    assert result.orphans == ()
    return result.machine


def orphans(*corrections: Correction, made: Machine = MADE) -> list[str]:
    result = put_right(made, Corrections(CORRECTIONS_SCHEMA, "", corrections))
    assert len(result.held) + len(result.orphans) == len(corrections)
    return [orphan.why for orphan in result.orphans]


def test_without_corrections_the_model_is_the_same() -> None:
    assert put_right(MADE, None).machine is MADE
    assert put_right(MADE, Corrections(CORRECTIONS_SCHEMA)).machine is MADE


def test_a_step_reads_otherwise_and_its_words_are_read_by_the_same_rules() -> None:
    made = righted(
        about(StepReads, "9.1.1", words="Remove the 4 bolts M8 x 30 (see 4.4). Tighten to 12 N·m.")
    )
    first = made.procedures[0].steps[0]
    assert first.mentions[0].quantity.low == 4
    assert first.mentions[0].kind == Kind("bolt", "M8", 30.0)
    assert [one.to for one in first.references] == [("4.4",)]
    assert first.torques[0].torque_Nm == (12.0, 12.0)
    assert isinstance(first.citations[-1].place, SaidPlace)
    assert first.citations[0] == MADE.procedures[0].steps[0].citations[0]


def test_a_new_pointer_that_leads_nowhere_is_not_lost() -> None:
    made = righted(about(StepReads, "9.1.1", words="Remove the lid (see 7.7)."))
    assert [one.status for one in made.procedures[0].steps[0].references] == ["dangling"]


def test_mark_and_kind_change_without_reading_the_words_again() -> None:
    made = righted(about(StepReads, "9.1.2", mark="2a", deeds=("tighten",)))
    second = made.procedures[0].steps[1]
    assert (second.mark, second.deeds, second.doubt, second.torques) == ("2a", ("tighten",), "", (NINE,))


def test_what_is_no_step_goes_and_its_warning_and_pointers_stay() -> None:
    made = righted(about(NotAStep, "9.1.3"), about(NotAStep, "9.1.1", "c2"))
    assert [one.id for one in made.procedures[0].steps] == ["9.1.2"]
    assert [one.words for one in made.procedures[0].cautions] == ["Hot."]
    assert "r1" in [one.id for one in made.procedures[0].before]


def test_missing_steps_come_behind_theirs_with_the_box() -> None:
    box = (0.1, 0.2, 0.9, 0.25)
    first = about(
        StepMissing,
        "9.1",
        words="Drain the oil.",
        source="m",
        mark="1a",
        behind="9.1.1",
        place=PdfPlace(8, "4-8", box),
    )
    second = about(StepMissing, "9.1", "c2", words="Mark it.", source="m", behind="9.1/added~c1")
    made = righted(first, second)
    assert [one.mark for one in made.procedures[0].steps] == ["1", "1a", "", "2", "3"]
    added = made.procedures[0].steps[1]
    assert added.deeds == ("drain",)
    assert added.citations[0].place == PdfPlace(8, "4-8", box)


def test_a_reference_leads_where_a_person_says() -> None:
    made = righted(
        about(LeadsTo, "r1", to=("3.3", "4.4"), any_of=True, first=True), about(Confirmed, "r2", "c2")
    )
    one, two = made.procedures[0].steps[0].references[0], made.procedures[0].before[0]
    assert (one.status, one.to, one.any_of, one.role) == ("resolved", ("3.3", "4.4"), True, "before")
    assert (two.status, two.to) == ("resolved", ("3.3",))
    assert made.problems == (), "the doubt about just this reference is settled with it"


def test_a_reference_that_asks_for_nothing_goes_with_its_reason() -> None:
    made = righted(about(AsksNothing, "r1", reason="another engine"))
    assert made.procedures[0].steps[0].references == ()
    assert made.put_right[0].aside
    assert made.put_right[0].reason == "another engine"
    assert orphans(about(AsksNothing, "r1")) == ["no reason is given"]


def test_a_torque_of_a_step_and_of_a_table() -> None:
    """1 lbf·ft is 1.355 818 N·m: NIST SP 811 (2008), appendix B.8."""
    made = righted(
        about(TorqueReads, "9.1.2/torque/1", low=10.0, high=10.0, unit="lbf·ft"),
        about(TorqueReads, "m/torque/nut", "c2", low=90.0, high=95.0, unit="N·m", angle_deg=60.0),
    )
    assert made.procedures[0].steps[1].torques[0].torque_Nm == pytest.approx((13.55818, 13.55818), abs=1e-4)
    assert made.torques[0].value.torque_Nm == (90.0, 95.0)
    assert made.torques[0].value.angle_deg == 60.0


def test_a_limit_a_count_and_a_row() -> None:
    made = righted(
        about(LimitReads, "m/limit/disc", limit=Span(None, 4.5, "mm"), sense="at most"),
        about(CountReads, "9.1.1/part/1", "c2", low=4, high=4),
        about(
            RowReads,
            "m/row/1/2",
            "c3",
            low=3,
            high=3,
            what="screw",
            thread="M8",
            length_mm=70.0,
            name="Screw M8 x 70",
        ),
    )
    assert (made.limits[0].limit, made.limits[0].sense, made.limits[0].doubt) == (
        Span(None, 4.5, "mm"),
        "at most",
        "",
    )
    assert made.procedures[0].steps[0].mentions[0].quantity.low == 4
    row = made.rows[0]
    assert (row.quantity.low, row.kind, row.unknown, row.doubt) == (3, Kind("screw", "M8", 70.0), False, "")


def test_a_row_can_be_no_fastener() -> None:
    assert righted(about(RowReads, "m/row/1/2", what="")).rows[0].kind is None


def test_pages_and_doubts_are_settled_only_with_words() -> None:
    assert orphans(about(Confirmed, "m/page/4")) == ["no reason is given"]
    made = righted(about(Confirmed, "m/page/4", reason="only a table of colours"))
    assert made.pages[0].state == "read"
    assert "Ann" in made.pages[0].why


def test_a_page_of_another_file_stays_open() -> None:
    other = replace(MADE, sources=(replace(MADE.sources[0], sha256="cd" * 32),))
    assert orphans(about(Confirmed, "m/page/4", reason="x"), made=other) == ["other words stand there now"]


def test_confirmed_holds_only_while_it_is_read_so() -> None:
    one = about(Confirmed, "r2")
    before = (replace(MADE.procedures[0].before[0], to=("4.4",)),)
    other = replace(MADE, procedures=(replace(MADE.procedures[0], before=before), *MADE.procedures[1:]))
    result = put_right(other, Corrections(CORRECTIONS_SCHEMA, "", (one,)))
    assert [orphan.why for orphan in result.orphans] == ["it is read otherwise now than what was confirmed"]
    assert result.machine.procedures[0].before[0].status == "doubtful"
    assert result.machine.problems[-1].code == "LB-K01"


def test_other_words_make_an_orphan_and_nothing_changes() -> None:
    other = replace(
        MADE,
        procedures=(
            replace(MADE.procedures[0], steps=(replace(MADE.procedures[0].steps[0], words="Do otherwise."),)),
            *MADE.procedures[1:],
        ),
    )
    result = put_right(other, Corrections(CORRECTIONS_SCHEMA, "", (about(NotAStep, "9.1.1"),)))
    assert [one.id for one in result.machine.procedures[0].steps] == ["9.1.1"]
    assert "Do otherwise." in result.machine.problems[-1].what
    assert result.machine.problems[-1].citations[0].place == PdfPlace(8, "4-8")


def test_a_torque_that_moved_within_its_step_is_found_by_its_words() -> None:
    one = about(TorqueReads, "9.1.2/torque/1", low=8.0, high=8.0, unit="N·m")
    new = TorqueValue((5.0, 5.0), ((5.0, 5.0, "N·m"),), words="5 N·m")
    steps = tuple(
        replace(each, torques=(new, NINE)) if each.id == "9.1.2" else each
        for each in MADE.procedures[0].steps
    )
    made = righted(one, made=replace(MADE, procedures=(replace(MADE.procedures[0], steps=steps),)))
    assert [each.torque_Nm for each in made.procedures[0].steps[1].torques] == [(5.0, 5.0), (8.0, 8.0)]


def test_a_place_that_is_gone_makes_an_orphan() -> None:
    assert orphans(about(LeadsTo, "r1", to=("8.8",))) == ["the section it leads to is no longer there"]
    gone = about(StepMissing, "9.1", words="x", source="m", behind="9.1.7")
    assert orphans(gone) == ["the step before it is no longer there"]


def test_of_two_about_one_fact_the_later_holds_and_can_be_taken_back() -> None:
    one = about(LeadsTo, "r1", to=("3.3",))
    two = about(LeadsTo, "r1", "c2", to=("4.4",))
    back = Withdrawn(id="c3", fact="r1", saw="see r1", by="Ben", withdraws="c2")
    again = Withdrawn(id="c4", fact="r1", saw="see r1", by="Ben", withdraws="c3")
    assert righted(one, two).procedures[0].steps[0].references[0].to == ("4.4",)
    assert righted(one, two, back).procedures[0].steps[0].references[0].to == ("3.3",)
    assert righted(one, two, back, again).procedures[0].steps[0].references[0].to == ("4.4",)


def test_what_a_corrected_step_points_at_can_be_put_right_too() -> None:
    words = about(StepReads, "9.1.1", words="Remove the lid (see 7.7).")
    after = righted(words)
    new = next(one for one in facts_of(after) if one.sort == "reference" and "7.7" in one.saw)
    to = LeadsTo(id="c2", fact=new.id, saw=new.saw, by="Ann", to=("4.4",))
    assert righted(words, to).procedures[0].steps[0].references[0].to == ("4.4",)


def test_a_correction_of_the_wrong_sort_is_told() -> None:
    said = fact("9.1.1")
    wrong = RowReads(id="c1", fact=said.id, saw=said.saw, by="Ann", low=3, high=3)
    assert orphans(wrong) == ["a correction of another sort than its fact"]


def test_everything_says_by_whom() -> None:
    said = righted(about(CountReads, "9.1.1/part/1", low=4, high=4)).put_right[0]
    assert (said.by, said.at, said.was, said.under) == ("Ann", "2026-11-30T09:00", "3 x bolt M6", "9.1")
    assert said.words == '"three bolts": 4 pieces.'
