"""The map of a joint against its record: places whose screw is to come, what went in, what others tighten."""

import pytest
from msgspec.structs import replace
from small_book import cited, machine, names, proc, row, step

from lastbolt.app.class_said import class_said, general_row
from lastbolt.app.make_plan import make_plan
from lastbolt.app.torque_map import torque_map
from lastbolt.words.engine import ENGINE_SCHEMA, AsFound, Engine
from lastbolt.words.job import JOB_SCHEMA, Counted, Event, Job, ProcedureDone, PutIn, Renewed, TookOut
from lastbolt.words.joint import WALK_SCHEMA, End, JointPlace, Tie, Walk
from lastbolt.words.machine import Machine, Reference, Section, TorqueRow, TorqueValue
from lastbolt.words.quantity import Kind
from lastbolt.words.torque_map import TorqueMap

M8 = Kind("screw", "M8", 45.0)
LONG = Kind("screw", "M8", 90.0)
IN_ALU = {"grip_mm": 25.0, "thread_mm": 22.5, "metal": "cast aluminium"}


def place(number: int, kind: Kind | None = M8, **more: object) -> JointPlace:
    end = End("cover", "near", float(number % 3) * 40, float(number // 3) * 40)
    return JointPlace(f"p{number}", str(number), (end,), kind=kind, **(more or IN_ALU))  # type: ignore[arg-type]


WALK = Walk(WALK_SCHEMA, "j", "cover joint", ("cover",), places=tuple(place(n) for n in range(1, 7)))


def value(Nm: float) -> TorqueValue:
    return TorqueValue((Nm, Nm), ((Nm, Nm, "N·m"),), words=f"{Nm:g} N·m")


COVER = proc("4.1", "Separating the cover", "separate", "cover",
             step("1", "Remove the six screws.", names("screws", count=6, kind=M8)),
             step("2", "Take the cover off.", names("cover")))  # fmt: skip
TIGHTEN = "Tighten to 24 N·m in the order 3, 4, 1, 6, 2, 5."
COVER_ON = proc("4.2", "Joining the cover", "join", "cover",
                step("1", "Set the cover on.", names("cover", "install")),
                step("2", TIGHTEN, names("screws", "tighten", kind=M8)))  # fmt: skip
COVER_ON = replace(COVER_ON, steps=(COVER_ON.steps[0], replace(COVER_ON.steps[1], torques=(value(24.0),))))
COVER_OFF = Reference("book/r/off", "Cover separated (4.1)", "before", "resolved", ("book/procedure/4.1",))
GEARS = replace(
    proc("6.1", "Removing the gears", "remove", "gears", step("1", "Take the pinion off.", names("pinion"))),
    before=(COVER_OFF,),
)
MADE = machine(COVER, COVER_ON, GEARS, row("1/1", "Screw", 6, M8, number="W-101"))


def map_of(
    *events: Event, made: Machine = MADE, walk: Walk = WALK, engine: Engine | None = None, goal: str = "4.1"
) -> TorqueMap:
    job = Job(JOB_SCHEMA, "x", goal, events=events)
    return torque_map(walk, make_plan(made, goal, engine, job), made, engine, job)


def turns(found: TorqueMap) -> dict[str, int]:
    return {one.label: one.turn for one in found.places}


IN_ORDER = {"3": 1, "4": 2, "1": 3, "6": 4, "2": 5, "5": 6}
TICKED = ProcedureDone(id="d", by="Ama", procedure="book/procedure/4.1", looked=True)


@pytest.mark.parametrize("events", [(), (TICKED,)])
def test_a_joint_that_only_a_required_section_parts_has_the_sources_torque_and_order(
    events: tuple[Event, ...],
) -> None:
    found = map_of(*events, goal="6.1")
    assert found.source == "the source"
    assert "24 N·m" in found.torque
    assert turns(found) == IN_ORDER


def engine(*facts: AsFound) -> Engine:
    return Engine(ENGINE_SCHEMA, "e", "no. 3", as_found=facts)


GONE = AsFound("missing", "gone for years", place="p4", line="list/row/1/1", kind=M8)


def test_a_place_found_empty_keeps_its_turn_and_is_told_until_its_screw_is_in() -> None:
    found = map_of(engine=engine(GONE))
    assert turns(found) == IN_ORDER
    assert [one.label for one in found.places if one.to_come] == ["4"]
    assert any("4 has no screw yet" in one for one in found.doubts)
    put = map_of(PutIn(id="i", by="Ama", joint="j", places=("p4",)), engine=engine(GONE))
    assert turns(put) == IN_ORDER
    assert not any("no screw yet" in one for one in put.doubts)


def counted(pieces: int, kind: Kind = M8) -> Counted:
    return Counted(id=f"c{kind.length_mm}", by="Ama", kind=kind, pieces=pieces, joint="j")


def empty(found: TorqueMap) -> set[str]:
    assert found.lengths is not None
    return {one.place for one in found.lengths.placed if one.length_mm is None}


def test_places_that_wait_for_a_new_screw_stay_empty_before_all_others() -> None:
    odd = AsFound("odd length", "an M8 x 50", place="p2", line="list/row/1/1", kind=Kind("screw", "M8", 50.0))
    found = map_of(counted(4), engine=engine(GONE, odd))
    assert empty(found) == {"p2", "p4"}
    assert found.lengths is not None
    assert {one.why.partition(";")[0] for one in found.lengths.placed if one.length_mm is None} == {
        "a new M8 x 45 is to come"
    }
    assert len(empty(map_of(counted(3), engine=engine(GONE, odd)))) == 3


def test_what_went_in_is_told_with_who_put_it_in_and_nothing_is_to_be_placed() -> None:
    every = tuple(f"p{n}" for n in range(1, 7))
    put = PutIn(id="i", by="Lio", joint="j", places=every)
    found = map_of(counted(6), put, counted(0))
    assert found.lengths is not None
    assert {(one.length_mm, one.why, one.is_in) for one in found.lengths.placed} == {
        (45.0, "went in (Lio)", True)
    }
    out = map_of(counted(6), put, TookOut(id="o", by="Lio", joint="j", places=("p1",), kind=M8))
    assert out.lengths is not None
    assert {one.place for one in out.lengths.placed if not one.is_in} == {"p1"}


@pytest.mark.parametrize(("length", "said"), [(55.0, "bottoms"), (35.0, "short")])
def test_a_wrong_length_that_went_in_is_told(length: float, said: str) -> None:
    other = row("1/2", "Screw, other", 1, Kind("screw", "M8", length), number="W-102")
    made = machine(COVER, COVER_ON, row("1/1", "Screw", 6, M8), other)
    put = PutIn(id="i", by="Lio", joint="j", places=("p1",), line="list/row/1/2")
    found = map_of(counted(6), put, made=made)
    assert any(one.startswith("1: ") and said in one and "Lio" in one for one in found.doubts)
    right = map_of(counted(6), replace(put, line="list/row/1/1"), made=made)
    assert not any(one.startswith("1: ") for one in right.doubts)


def test_a_new_part_of_another_joint_is_no_piece_of_this_one() -> None:
    pin = row("1/3", "Pin, split", 1, Kind("pin", "2", 16.0))
    made = machine(COVER, COVER_ON, row("1/1", "Screw", 6, M8), pin)
    new = tuple(Renewed(id=f"r{n}", by="Ama", part="new", row=f"list/row/1/{n}", count=n) for n in (1, 3))
    found = map_of(counted(5), *new, made=made)
    assert not empty(found)
    assert found.lengths is not None
    assert found.lengths.over == ()


BRACKET = proc("7.3", "Installing the bracket", "install", "bracket",
               step("1", "Fit the long screw.", names("bracket", "install"),
                    names("screw", "install", kind=LONG)),
               step("2", "Tighten it.", names("screw", "tighten")))  # fmt: skip
BRACKET = replace(BRACKET, steps=(BRACKET.steps[0], replace(BRACKET.steps[1], torques=(value(18.0),))))
BRACKET_OFF = proc("7.2", "Removing the bracket", "remove", "bracket",
                   step("1", "Take the bracket off.", names("bracket")))  # fmt: skip


def with_long(tie: bool = True) -> Walk:
    ties = (Tie("list/row/8/3", True, places=("p7",)),) if tie else ()
    return replace(WALK, places=(*WALK.places, place(7, Kind("screw", "M8"))), ties=ties)


def test_a_screw_that_the_order_leaves_out_has_the_torque_of_the_section_that_fits_it() -> None:
    off = Reference("book/r/b", "bracket removed (7.2)", "before", "resolved", ("book/procedure/7.2",))
    made = machine(replace(COVER, before=(off,)), COVER_ON, BRACKET_OFF, BRACKET,
                   row("1/1", "Screw", 6, M8), row("8/3", "Screw, bracket", 1, LONG))  # fmt: skip
    found = map_of(made=made, walk=with_long())
    assert turns(found)["7"] == 0
    assert [one.startswith("7: 7.3 step 2: 18 N·m") for one in found.elsewhere] == [True]
    assert "tightened elsewhere" in found.order_source
    bare = map_of(made=made, walk=with_long(tie=False))
    assert bare.elsewhere == ()
    assert "ask, nothing is made up" in bare.order_source


def section(words: str) -> Section:
    return Section("book/section/1", "1", "Screws", 1, text=words, citations=cited("book", 3))


BARE = replace(COVER_ON, steps=COVER_ON.steps[:1])


def test_the_class_that_the_sources_name_for_all_screws_gives_a_general_value_with_its_place() -> None:
    said = section("Keep it clean. Screws are metric, property class 8.8, unless a section says otherwise.")
    found = map_of(made=machine(COVER, BARE, said))
    assert "general practice" in found.source
    assert "property class 8.8" in found.torque
    assert found.citations == said.citations
    assert "clamps with" in found.scatter
    assert "strength class" in map_of(made=machine(COVER, BARE)).no_value
    two = section("Screws are of property class 8.8. The screws of the head are of property class 10.9.")
    assert "strength class" in map_of(made=machine(COVER, BARE, two)).no_value


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("All bolts are strength class 10.9.", "10.9"), ("Screws M8 x 8.8 are blue.", None),
        ("The oil is of property class 8.8.", None), ("", None),
    ],
)  # fmt: skip
def test_a_class_is_only_what_is_called_so_and_said_of_fasteners(words: str, name: str | None) -> None:
    found = class_said(machine(section(words)))
    assert (found.name if found else None) == name


def test_the_sources_own_general_table_comes_before_the_standard() -> None:
    own = TorqueRow("book/torque/m8", "M8", value(22.0), "M8", cited("book", 8, "M8 22 N·m"))
    made = replace(machine(COVER, BARE), torques=(own,))
    found = map_of(made=made)
    assert "22 N·m" in found.torque
    assert "general table" in found.source
    other = replace(own, id="book/torque/m8+2", value=value(25.0))
    assert general_row(replace(made, torques=(own, other)), "M8") is None
    assert general_row(replace(made, torques=(replace(own, what="Case screws"),)), "M8") is None
