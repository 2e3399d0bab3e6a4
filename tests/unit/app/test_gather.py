"""Documents of an invented pump drive -> evidence about one joint, and the answer from it."""

from msgspec.structs import replace

from lastbolt.app.gather import gather
from lastbolt.app.gather_documents import Documents
from lastbolt.app.make_plan import make_plan
from lastbolt.app.tally_joint import tally_joint
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.engine import ENGINE_SCHEMA, AsFound, Engine
from lastbolt.words.evidence import Evidence, Line
from lastbolt.words.job import (
    JOB_SCHEMA,
    Counted,
    HandedOver,
    HolderSettled,
    Job,
    Looked,
    ProcedureDone,
    StepDone,
    TookOut,
    Undone,
    WentRound,
)
from lastbolt.words.joint import WALK_SCHEMA, Answer, Holder, JointPlace, Round, Tie, Walk
from lastbolt.words.machine import (
    MODEL_SCHEMA,
    Applies,
    Figure,
    Machine,
    Mention,
    PageSeen,
    PartsRow,
    Procedure,
    Source,
    Step,
)
from lastbolt.words.quantity import Kind, exactly

CASE, LONG, COVER = Kind("screw", "M8", 45), Kind("screw", "M8", 70), Kind("screw", "M5", 12)


def _page(source: str, pdf_page: int, printed: str) -> tuple[Citation, ...]:
    return (Citation(source, PdfPlace(pdf_page, printed)),)


def _row(figure: str, item: str, name: str, count: int, kind: Kind | None = None) -> PartsRow:
    row = f"list/row/{figure}/{item}"
    return PartsRow(
        row, "list", f"list/figure/{figure}", item, f"9{figure}{item}", name, exactly(count), kind,
        citations=_page("list", int(figure), f"L-{figure}"),
    )  # fmt: skip


def _step(number: str, mark: str, words: str, mention: Mention) -> Step:
    return Step(
        f"manual/step/{number}/{mark}", mark, words, ("remove",), (mention,),
        citations=_page("manual", 30, "4-6"),
    )  # fmt: skip


PUMP_OFF = Procedure(
    "manual/procedure/4.2", "4.2", "Pump bracket, removal", "remove", ("pump bracket",),
    (_step("4.2", "5", "Remove the bolts.", Mention("bolts", "remove", exactly(2), rows=("list/row/7/3",))),),
)  # fmt: skip
SPLIT = Procedure(
    "manual/procedure/6.1", "6.1", "Case, separation", "separate", ("case",),
    (_step("6.1", "2", "Remove the case screws.", Mention("case screws", "remove", rows=("list/row/3/4",))),),
)  # fmt: skip
MACHINE = Machine(
    MODEL_SCHEMA,
    "pump drive",
    sources=(
        Source("manual", "Service manual", "manual", "maker"),
        Source("list", "Parts list", "parts list", "maker"),
    ),
    procedures=(PUMP_OFF, SPLIT),
    figures=(
        Figure("list/figure/3", "3", "Case", "list", parts_figure=True),
        Figure("list/figure/7", "7", "Pump bracket", "list", parts_figure=True),
    ),
    rows=(
        _row("3", "4", "Case screw", 2, CASE),
        _row("3", "9", "Dowel", 2, Kind("dowel", "8", 16)),
        _row("3", "11", "Circlip", 1),
        _row("5", "1", "Screw", 6, CASE),
        _row("7", "3", "Bolt", 2, LONG),
        _row("8", "2", "Screw", 4, COVER),
    ),
)
WALK = Walk(
    WALK_SCHEMA,
    "case",
    "Case joint",
    places=(
        JointPlace("p1", "1", kind=CASE),
        JointPlace("p2", "2", kind=CASE),
        JointPlace("p9", "9", kind=LONG),
    ),
    rounds=(
        Round(
            "r1",
            "A",
            True,
            True,
            (*(Answer(p, ("out",)) for p in ("p1", "p2")), Answer("p9", ("cannot see",))),
        ),
    ),
    holders=(Holder("shaft", "shaft-end nut", "shaft nut"),),
)
JOB = Job(
    JOB_SCHEMA,
    "job",
    "split the case",
    events=(
        ProcedureDone(id="e1", by="crew", procedure=PUMP_OFF.id),
        HandedOver(id="e2", by="crew"),
        Counted(id="e3", by="B", kind=CASE, pieces=2),
    ),
)
ALL = Documents(MACHINE, None, (WALK,), JOB, (PUMP_OFF.id, SPLIT.id), (SPLIT.id,))


def evidence_of(documents: Documents) -> Evidence:
    """The evidence alone."""
    return gather(documents).evidence


def line_of(evidence: Evidence, row: str) -> Line:
    """The line made from a row."""
    return next(line for line in evidence.lines if line.id.endswith(row))


def test_the_step_that_parts_the_joint_ties_its_row_and_another_figure_may_belong() -> None:
    gathered = gather(ALL)
    case, long = line_of(gathered.evidence, "3/4"), line_of(gathered.evidence, "7/3")
    assert (case.belongs, long.belongs) == ("wholly", "maybe")
    why = {taken.line: taken.words for taken in gathered.beside.taken_as}
    assert "section 6.1 step 2" in why[case.id]
    assert "section 4.2 step 5" in why[long.id]


def test_rows_that_only_fit_by_size_are_kept_as_one_line_and_what_cannot_fit_is_not() -> None:
    lines = evidence_of(ALL).lines
    by_size = [line for line in lines if line.id.startswith("by size/")]
    assert [(line.kind.thread, line.belongs, line.printed[0].quantity.high) for line in by_size] == [
        ("M8", "maybe", 6)
    ]
    assert not any(line.kind.thread == "M5" for line in lines)
    assert not any(line.kind.what == "dowel" for line in lines)


def test_a_tie_in_the_walk_speaks_first() -> None:
    tie = Tie("list/row/7/3", True, ("p9",), "A")
    line = line_of(evidence_of(replace(ALL, walks=(replace(WALK, ties=(tie,)),))), "7/3")
    assert (line.belongs, line.tied_by, line.places) == ("wholly", "A", ("p9",))


def test_the_closure_step_carries_the_previous_crews_tick_and_the_handover() -> None:
    evidence = evidence_of(ALL)
    step = next(step for step in evidence.steps if step.id.endswith("4.2/5"))
    assert (step.state, step.by) == ("done", "crew")
    assert evidence.breaks[0].moment > step.moment
    assert evidence.counts[0].moment > evidence.breaks[0].moment


def test_without_a_job_file_an_unticked_step_claims_nothing_and_with_one_it_does() -> None:
    assert {step.state for step in evidence_of(replace(ALL, job=None)).steps} == {"started"}
    empty = replace(JOB, events=())
    assert {step.state for step in evidence_of(replace(ALL, job=empty)).steps} == {"not recorded"}


def test_a_list_with_an_unexplained_page_is_not_taken_as_read_to_its_end() -> None:
    assert [read.source for read in evidence_of(ALL).lists] == ["Parts list"]
    torn = replace(MACHINE, pages=(PageSeen("list", 12, state="unexplained"),))
    gathered = gather(replace(ALL, machine=torn))
    assert gathered.evidence.lists == ()
    assert "1 page of Parts list" in gathered.beside.not_read


def test_what_was_undone_never_happened_and_other_joints_are_named() -> None:
    events = (
        TookOut(id="e1", by="A", joint="case", places=("p1",)),
        Undone(id="e2", by="A", undoes="e1"),
        Looked(id="e3", by="A", joint="elsewhere", answers=(Answer("p1", ("in",)),)),
    )
    gathered = gather(replace(ALL, job=replace(JOB, events=events)))
    assert gathered.evidence.acts == ()
    assert "LB-T08" in {problem.code for problem in gathered.beside.problems}
    undone_twice = (*events[:2], Undone(id="e4", by="A", undoes="e2"))
    assert len(evidence_of(replace(ALL, job=replace(JOB, events=undone_twice))).acts) == 1


def test_a_round_on_the_bench_is_guided_a_look_is_a_glance_and_a_strange_place_is_kept() -> None:
    round_ = Round("r", "B", True, False, (Answer("p9", ("light through", "open hole")),))
    events = (
        WentRound(id="e1", by="B", joint="case", round=round_),
        Looked(id="e2", by="B", joint="case", answers=(Answer("p77", ("in",)),)),
    )
    gathered = gather(replace(ALL, job=replace(JOB, events=events)))
    looks = [look for look in gathered.evidence.looks if look.by == "B"]
    assert [(look.place, look.guided) for look in looks] == [("p9", True), ("p9", True), ("p77", False)]
    assert [round_.by for round_ in gathered.evidence.rounds] == ["A"]
    assert "p77" in {place.id for place in gathered.evidence.places}
    assert "LB-T03" in {problem.code for problem in gathered.beside.problems}


def test_the_engine_file_changes_counts_and_adds_the_odd_piece() -> None:
    facts = (
        AsFound("missing", "none at 2", "p2", "list/row/3/4", 1, by="Oda"),
        AsFound("odd length", "50 at 1", "p1", "list/row/3/4", 1, Kind("screw", "M8", 50), "Oda"),
    )
    engine = Engine(ENGINE_SCHEMA, "e3", "no. 3", as_found=facts)
    evidence = evidence_of(replace(ALL, engine=engine))
    assert line_of(evidence, "3/4").on_engine == 0
    odd = next(line for line in evidence.lines if line.id.startswith("engine file/"))
    assert (odd.kind.length_mm, odd.on_engine, odd.places) == (50, 1, ("p1",))
    assert next(place for place in evidence.places if place.id == "p1").kind == Kind("screw", "M8", 50)


def test_rows_of_another_variant_are_left_out_and_of_an_unknown_one_kept() -> None:
    rows = tuple(
        replace(row, applies=Applies(variants=("H",))) if row.id == "list/row/7/3" else row
        for row in MACHINE.rows
    )
    machine = replace(MACHINE, rows=rows)
    other = Engine(ENGINE_SCHEMA, "e", "no. 1", variant="K")
    assert not [x for x in evidence_of(replace(ALL, machine=machine, engine=other)).lines if "7/3" in x.id]
    assert line_of(evidence_of(replace(ALL, machine=machine)), "7/3")
    small = Engine(ENGINE_SCHEMA, "e", "no. 1", variant="h")
    assert line_of(evidence_of(replace(ALL, machine=machine, engine=small)), "7/3"), "capitals do not matter"
    told = Engine(ENGINE_SCHEMA, "e", "no. 1", variant="Model H")
    assert line_of(evidence_of(replace(ALL, machine=machine, engine=told)), "7/3"), (
        "nor does what it is called"
    )


def test_rows_of_a_variant_that_the_model_does_not_know_are_kept_and_told() -> None:
    rows = tuple(
        replace(row, applies=Applies(variants=("Q9",))) if row.id == "list/row/7/3" else row
        for row in MACHINE.rows
    )
    machine = replace(MACHINE, rows=rows, variants=("H", "K"))
    engine = Engine(ENGINE_SCHEMA, "e", "no. 1", variant="K")
    documents = replace(ALL, machine=machine, engine=engine)
    assert line_of(evidence_of(documents), "7/3")
    (what,) = _said(documents, "LB-T32")
    assert '"Q9"' in what
    assert "list/row/7/3" in what
    assert (
        _said(replace(documents, machine=replace(machine, variants=("H", "K", "Model Q9"))), "LB-T32") == []
    )


def test_other_holders_come_from_walk_figures_and_sections_once_each() -> None:
    holders = {holder.name: holder for holder in gather(ALL).beside.holders}
    assert set(holders) == {"shaft nut", "pump bracket", "Dowel", "Circlip"}
    assert not any(holder.settled for holder in holders.values())
    assert "nobody has looked" in holders["pump bracket"].words
    events = (
        *JOB.events,
        HolderSettled(id="e8", by="B", joint="case", holder="shaft", how="off"),
        ProcedureDone(id="e9", by="B", procedure=PUMP_OFF.id, looked=True),
    )
    settled = gather(replace(ALL, job=replace(JOB, events=events))).beside.holders
    assert {holder.name for holder in settled if holder.settled} == {"shaft nut", "pump bracket"}


def test_the_answer_names_the_hidden_bolt() -> None:
    gathered = gather(ALL)
    answer = tally_joint(gathered.evidence, gathered.beside)
    assert answer.sentence == "Do not pull: 1 of 3 places is not accounted for: place 9."
    words = next(s.words for s in answer.suspicions if "9" in s.words.split(":")[0])
    assert "figure 7 (Pump bracket), item 3" in words
    assert "section 4.2 step 5" in words.lower()
    assert "nobody has looked" in words


def test_a_step_ticked_that_the_model_does_not_have_is_named() -> None:
    events = (StepDone(id="e1", by="A", step="manual/step/99/1"),)
    problems = gather(replace(ALL, job=replace(JOB, events=events))).beside.problems
    assert "LB-T09" in {problem.code for problem in problems}


def test_nothing_at_hand_is_still_an_answer() -> None:
    gathered = gather(Documents())
    answer = tally_joint(gathered.evidence, gathered.beside)
    assert answer.verdict == "not shown"
    assert {"LB-T04", "LB-T05"} <= {problem.code for problem in answer.problems}


def _said(documents: Documents, code: str) -> list[str]:
    return [problem.what for problem in gather(documents).beside.problems if problem.code == code]


def test_a_row_that_a_walk_names_and_no_list_has_is_told() -> None:
    assert _said(ALL, "LB-T11") == []
    places = (replace(WALK.places[0], lines=("list/row/3/4x",)), *WALK.places[1:])
    walk = replace(WALK, places=places, ties=(Tie("list/row/3/44", True),))
    told = _said(replace(ALL, walks=(walk,)), "LB-T11")
    assert [any(name in what for what in told) for name in ("list/row/3/44", "list/row/3/4x")] == [True, True]


def test_a_holder_that_is_settled_and_nowhere_listed_is_told() -> None:
    event = HolderSettled(id="e8", by="B", joint="case", holder="shft", how="off")
    job = replace(JOB, events=(*JOB.events, event))
    (what,) = _said(replace(ALL, job=job), "LB-T11")
    assert '"shft"' in what


def test_a_fact_of_the_engine_file_about_an_unknown_row_is_told() -> None:
    fact = AsFound("missing", "one bolt missing", line="list/row/7/33")
    engine = Engine(ENGINE_SCHEMA, "e", "no. 1", as_found=(fact,))
    (what,) = _said(replace(ALL, engine=engine), "LB-T06")
    assert "one bolt missing" in what
    assert "list/row/7/33" in what


def test_a_variant_that_no_source_names_is_told_in_plan_and_tally() -> None:
    machine = replace(MACHINE, variants=("H", "K"))
    for variant, problems in (("F", 1), ("h", 0), ("", 0)):
        engine = Engine(ENGINE_SCHEMA, "e", "no. 1", variant=variant)
        assert len(_said(replace(ALL, machine=machine, engine=engine), "LB-L03")) == problems
        plan = make_plan(machine, "separate the case", engine)
        assert sum(problem.code == "LB-L03" for problem in plan.problems) == problems


def test_a_second_tick_does_not_take_back_that_somebody_looked() -> None:
    looked = ProcedureDone(id="e8", by="B", procedure=PUMP_OFF.id, looked=True)
    again = ProcedureDone(id="e9", by="C", procedure=PUMP_OFF.id)
    beside = gather(replace(ALL, job=replace(JOB, events=(*JOB.events, looked, again)))).beside
    (bracket,) = [holder for holder in beside.holders if holder.name == "pump bracket"]
    assert bracket.settled


def test_an_undo_of_an_event_that_is_not_there_is_told() -> None:
    job = replace(JOB, events=(*JOB.events, Undone(id="e8", by="B", undoes="e77")))
    (what,) = _said(replace(ALL, job=job), "LB-T11")
    assert '"e77"' in what
