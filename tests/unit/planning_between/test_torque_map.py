"""How a joint goes together: the source's own order and rounds to the letter, and nothing made up."""

from msgspec.structs import replace
from small_book import machine, names, proc, step

from lastbolt.app.make_plan import make_plan
from lastbolt.app.torque_map import torque_map
from lastbolt.drawing.order_map import order_svg
from lastbolt.words.engine import ENGINE_SCHEMA, AsFound, Engine
from lastbolt.words.job import JOB_SCHEMA, Counted, HeadsStand, Job
from lastbolt.words.joint import WALK_SCHEMA, End, JointPlace, Walk
from lastbolt.words.lengths import Proud
from lastbolt.words.machine import Machine, Step, TorqueValue
from lastbolt.words.quantity import Kind
from lastbolt.words.torque_map import TorqueMap

M8 = Kind("screw", "M8", 45.0)


def place(number: int, kind: Kind = M8, **more: object) -> JointPlace:
    end = End("cover", "near", float(number % 3) * 40, float(number // 3) * 40)
    return JointPlace(f"p{number}", str(number), (end,), kind=kind, **more)  # type: ignore[arg-type]


WALK = Walk(WALK_SCHEMA, "j", "cover joint", places=tuple(place(n) for n in range(1, 7)))


def tightened(words: str, *values: tuple[float, str]) -> Step:
    torques = tuple(TorqueValue((Nm, Nm), ((Nm, Nm, "N·m"),), words=said) for Nm, said in values)
    return replace(step("2", words, names("screws", "tighten", kind=M8)), torques=torques)


def book(*steps: Step) -> Machine:
    off = proc("4.1", "Removing the cover", "separate", "cover",
               step("1", "Remove the six screws.", names("screws", count=6, kind=M8)),
               step("2", "Take the cover off.", names("cover")))  # fmt: skip
    on = proc("4.2", "Fitting the cover", "join", "cover", step("1", "Fit it.", names("cover", "install")))
    made = tuple(replace(one, id=f"book/step/4.2/{one.mark}") for one in steps)
    return machine(off, replace(on, steps=(*on.steps, *made)))


def map_of(
    made: Machine, walk: Walk = WALK, engine: Engine | None = None, job: Job | None = None
) -> TorqueMap:
    return torque_map(walk, make_plan(made, "4.1", engine, job), made, engine, job)


def test_the_sources_order_and_rounds_are_kept_to_the_letter() -> None:
    words = "Tighten to 12 N·m, then to 24 N·m, in the order 3, 4, 1, 6, 2, 5."
    found = map_of(book(tightened(words, (12, "12 N·m"), (24, "24 N·m"))))
    assert [one.places for one in found.rounds] == [("3", "4", "1", "6", "2", "5")] * 2
    assert [one.words for one in found.rounds] == ["12 N·m", "24 N·m"]
    assert found.source == "the source"
    assert {one.label: one.turn for one in found.places} == {"3": 1, "4": 2, "1": 3, "6": 4, "2": 5, "5": 6}
    assert found.lap == ()


def test_a_place_that_the_source_leaves_out_has_no_turn_and_is_told() -> None:
    found = map_of(book(tightened("Tighten to 24 N·m in the order 3, 4, 1, 6, 2.", (24, "24 N·m"))))
    assert next(one.turn for one in found.places if one.label == "5") == 0
    assert "does not name 5: ask" in found.order_source


def test_without_an_order_common_practice_is_named_as_such() -> None:
    found = map_of(book(tightened("Tighten to 24 N·m.", (24, "24 N·m"))))
    assert "common practice" in found.order_source
    assert sorted(found.rounds[-1].places) == ["1", "2", "3", "4", "5", "6"]


def test_no_torque_is_made_up() -> None:
    bare = map_of(book(replace(tightened("Tighten the screws."), torques=())))
    assert bare.torque == ""
    assert "strength class" in bare.no_value
    head = replace(book(), procedures=tuple(
        replace(one, title=one.title.replace("cover", "cylinder head"), parts=("cylinder head",))
        for one in book().procedures
    ))  # fmt: skip
    strong = replace(WALK, places=tuple(place(n, replace(M8, strength="8.8")) for n in range(1, 7)))
    plan = make_plan(head, "remove the cylinder head")
    found = torque_map(strong, plan, head)
    assert found.torque == ""
    assert "cylinder heads" in found.no_value


def test_units_that_do_not_agree_are_told() -> None:
    value = TorqueValue(
        (24.0, 24.0), ((24.0, 24.0, "N·m"), (25.0, 25.0, "lbf·ft")), words="24 N·m (25 lbf·ft)"
    )
    found = map_of(book(replace(tightened("Tighten to 24 N·m (25 lbf·ft)."), torques=(value,))))
    assert found.doubts


def test_a_hole_that_has_been_empty_for_years_takes_no_turn() -> None:
    engine = Engine(ENGINE_SCHEMA, "e", "no. 3", as_found=(AsFound("missing", "gone", place="p2"),))
    found = map_of(book(tightened("Tighten to 24 N·m.", (24, "24 N·m"))), engine=engine)
    assert "2" not in {one.label for one in found.places}


def test_each_length_goes_where_it_fits_and_the_map_shows_it() -> None:
    walk = replace(WALK, places=(
        place(1, Kind("screw", "M8"), grip_mm=25.0, thread_mm=22.0, metal="cast aluminium"),
        place(2, Kind("screw", "M8"), grip_mm=50.0, thread_mm=22.0, metal="cast aluminium"),
    ))  # fmt: skip
    counted = tuple(
        Counted(id=f"c{n}", by="Ama", kind=Kind("screw", "M8", length), pieces=1, joint="j")
        for n, length in enumerate((45.0, 70.0))
    )
    job = Job(JOB_SCHEMA, "x", "4.1", events=counted)
    found = map_of(book(tightened("Tighten to 24 N·m.", (24, "24 N·m"))), walk, job=job)
    assert found.lengths is not None
    assert [one.length_mm for one in found.lengths.placed] == [45.0, 70.0]
    assert "20 mm of thread" in found.lengths.placed[0].why
    drawn = order_svg(found)
    assert ">1st x45<" in drawn
    assert ">2nd x70<" in drawn


def test_words_of_a_walk_reach_the_drawing_escaped() -> None:
    walk = replace(WALK, places=(replace(WALK.places[0], label='<script>"'),))
    drawn = order_svg(map_of(book(), walk))
    assert "<script>" not in drawn
    assert "&lt;script&gt;" in drawn


def test_a_swapped_pair_is_told_from_how_far_the_heads_stand_proud() -> None:
    proud = tuple(Proud(f"p{n}", mm) for n, mm in enumerate((12.0, 17.0, 12.2, 7.0, 11.9, 12.1), 1))
    job = Job(JOB_SCHEMA, "x", "4.1", events=(HeadsStand(id="h", by="Ama", joint="j", proud=proud),))
    found = map_of(book(tightened("Tighten to 24 N·m.", (24, "24 N·m"))), job=job)
    assert any("2 stands out and 4 stands in" in one for one in found.doubts)
    even = HeadsStand(id="i", by="Ama", joint="j", proud=(Proud("p2", 12.1), Proud("p4", 12.0)))
    again = Job(JOB_SCHEMA, "x", "4.1", events=(*job.events, even))
    assert map_of(book(tightened("Tighten to 24 N·m.", (24, "24 N·m"))), job=again).doubts == ()


def test_torques_of_which_one_holds_in_each_case_are_no_rounds() -> None:
    values = tuple(
        TorqueValue((Nm, Nm), ((Nm, Nm, "N·m"),), words=f"{Nm:g} N·m", condition=case)
        for Nm, case in ((10.0, "8.8"), (14.0, "10.9"))
    )
    found = map_of(book(replace(tightened("Tighten the screws."), torques=values)))
    assert any("8.8, 10.9" in one for one in found.doubts)
    assert not any("N·m" in one.words for one in found.rounds)


def test_a_step_that_is_read_with_doubt_gives_no_rounds() -> None:
    step_ = replace(tightened("Tighten.", (10, "10 N·m"), (14, "14 N·m")), doubt="only one of the two holds")
    found = map_of(book(step_))
    assert any("only one of the two holds" in one for one in found.doubts)
    assert not any("N·m" in one.words for one in found.rounds)


def test_a_place_without_a_sure_length_shows_none_and_the_drawing_says_what_its_numbers_are() -> None:
    counted = Counted(id="c", by="Ama", kind=M8, pieces=5, joint="j")
    job = Job(JOB_SCHEMA, "x", "4.1", events=(counted,))
    found = map_of(book(tightened("Tighten to 24 N·m.", (24, "24 N·m"))), job=job)
    assert sorted(one.length for one in found.places) == ["x45"] * 5 + ["x?"]
    assert "In the ring: the place" in order_svg(found)
