"""Laws of corrections: none is lost, none is applied to other words, whatever is read anew."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from lastbolt.app.put_right import put_right
from lastbolt.correcting.facts import facts_of
from lastbolt.words.corrections import (
    CORRECTIONS_SCHEMA,
    AsksNothing,
    Confirmed,
    Correction,
    Corrections,
    LeadsTo,
    NotAStep,
    StepMissing,
    StepReads,
    Withdrawn,
    standing,
)
from lastbolt.words.machine import Machine, Procedure, Step
from planned import machine, proc, ref, step

ON_A_BUSY_MACHINE = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
WORDS = ("Remove the lid.", "Drain the oil.", "Tighten to 9 N·m.", "Lift it off (see 2.1).", "Mark the cap.")
NAMES = ("2.1", "2.2", "2.3")


@st.composite
def machines(draw: st.DrawFn) -> Machine:
    """Up to three short procedures with references that may lead somewhere."""
    made: list[Procedure] = []
    for name in draw(st.lists(st.sampled_from(NAMES), min_size=1, unique=True)):
        steps: list[Step] = []
        for number in range(draw(st.integers(0, 4))):
            words = draw(st.sampled_from(WORDS))
            pointer = ref(
                f"{name}.{number}.r", *draw(st.lists(st.sampled_from(NAMES), max_size=1)), status="doubtful"
            )
            steps.append(replace(step(str(number), *([pointer] if draw(st.booleans()) else [])), words=words))
        made.append(proc(name, *steps))
    return machine(*made)


@st.composite
def corrections_of(draw: st.DrawFn, made: Machine) -> Corrections:
    """Some corrections of the facts of a model, and withdrawals of some of them."""
    found: list[Correction] = []
    for number, fact in enumerate(draw(st.lists(st.sampled_from(facts_of(made)), max_size=6))):
        given = {
            "id": f"c{number}",
            "fact": fact.id,
            "saw": fact.saw,
            "read_as": fact.seen,
            "by": "Ann",
            "reason": "so",
        }
        match fact.sort:
            case "step":
                kind = draw(st.sampled_from((NotAStep, StepReads, Confirmed)))
                more = {"words": draw(st.sampled_from(WORDS))} if kind is StepReads else {}
            case "reference":
                kind = draw(st.sampled_from((LeadsTo, AsksNothing, Confirmed)))
                more = {"to": (draw(st.sampled_from(NAMES)),)} if kind is LeadsTo else {}
            case "procedure":
                kind, more = StepMissing, {"words": draw(st.sampled_from(WORDS)), "source": "m"}
            case _:
                kind, more = Confirmed, {}
        found.append(kind(**given, **more))  # type: ignore[arg-type]
        if draw(st.integers(0, 5)) == 0:
            found.append(
                Withdrawn(id=f"w{number}", fact=fact.id, saw=fact.saw, by="Ben", withdraws=f"c{number}")
            )
    return Corrections(CORRECTIONS_SCHEMA, "", tuple(found))


@ON_A_BUSY_MACHINE
@given(st.data())
def test_none_is_lost_and_none_meets_other_words(data: st.DataObject) -> None:
    first, again = data.draw(machines()), data.draw(machines())
    said = data.draw(corrections_of(first))
    result = put_right(again, said)
    ids = sorted([one.id for one in result.held] + [one.correction.id for one in result.orphans])
    assert ids == sorted(one.id for one in standing(said))
    stands = {(fact.id, fact.saw) for fact in facts_of(again)}
    held_at_once = [one for one in result.held if not one.fact.endswith("/said/r1")]
    assert all((one.fact, one.saw) in stands for one in held_at_once)
    told = [problem for problem in result.machine.problems if problem.code == "LB-K01"]
    assert len(told) == len(result.orphans)


@ON_A_BUSY_MACHINE
@given(st.data())
def test_facts_that_nobody_spoke_of_stay_as_they_were_read(data: st.DataObject) -> None:
    made = data.draw(machines())
    said = data.draw(corrections_of(made))
    spoken = {one.fact for one in said.corrections}
    after = {fact.id: fact for fact in facts_of(put_right(made, said).machine)}
    for fact in facts_of(made):
        if fact.id not in spoken and fact.of not in spoken:
            assert after[fact.id].saw == fact.saw
            assert after[fact.id].read_as == fact.read_as


@ON_A_BUSY_MACHINE
@given(st.data())
def test_taking_all_back_gives_the_model_as_it_was_read(data: st.DataObject) -> None:
    made = data.draw(machines())
    said = data.draw(corrections_of(made))
    back = tuple(
        Withdrawn(id=f"b{one.id}", fact=one.fact, saw=one.saw, by="Ann", withdraws=one.id)
        for one in said.corrections
        if not isinstance(one, Withdrawn)
    )
    assert put_right(made, replace(said, corrections=(*said.corrections, *back))).machine == made


@ON_A_BUSY_MACHINE
@given(st.data())
def test_the_same_twice_is_the_same(data: st.DataObject) -> None:
    made = data.draw(machines())
    said = data.draw(corrections_of(made))
    assert put_right(made, said) == put_right(made, said)
