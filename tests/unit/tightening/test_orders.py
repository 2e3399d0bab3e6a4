"""Orders of tightening and loosening, and states: once a round, centre before rim, across before beside."""

import math
import time
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.tightening.crosswise import legacy_cross
from lastbolt.tightening.order import At, loosening_order, tightening_order
from lastbolt.tightening.states import FOLLOWS, State, finished, may_follow, next_state, words_of

coordinates = st.integers(-500, 500)
joints = st.lists(st.tuples(coordinates, coordinates, st.sampled_from([None, 6.0, 8.0, 10.0])), max_size=40)


def ring(count: int, radius: float = 100.0, turn: float = 0.0, way: int = 1) -> list[At]:
    return [
        At(
            str(n + 1),
            radius * math.cos(turn + way * math.tau * n / count),
            radius * math.sin(turn + way * math.tau * n / count),
        )
        for n in range(count)
    ]


def grid(columns: int, rows: int) -> list[At]:
    return [At(f"{x}/{y}", 40.0 * x, 60.0 * y) for y in range(rows) for x in range(columns)]


@given(joints, st.sampled_from(["", "circular", "outline"]), st.booleans())
def test_each_place_once_a_round_and_larger_sizes_first(
    spots: list[tuple[int, int, float | None]], joint: str, angle: bool
) -> None:
    places = [At(str(n), x, y, size) for n, (x, y, size) in enumerate(spots)]
    order = tightening_order(places, joint=joint, angle=angle, torque_Nm=30.0)  # type: ignore[arg-type]
    size = {at.place: at.major_mm or 0.0 for at in places}
    assert len(order.stages) == (3 if places else 0)
    for stage in order.stages:
        assert sorted(stage.places) == sorted(size)
        sizes = [size[place] for place in stage.places]
        assert sizes == sorted(sizes, reverse=True)
        assert stage.torque_Nm == pytest.approx(30 * stage.fraction)
    assert sorted(order.lap) == ([] if angle else sorted(size))


@given(joints)
def test_loosening_is_the_order_backwards(spots: list[tuple[int, int, float | None]]) -> None:
    order = tightening_order([At(str(n), x, y, size) for n, (x, y, size) in enumerate(spots)])
    back = loosening_order(order)
    assert len(back.stages) == len(order.stages)
    for there, here in zip(order.stages, back.stages, strict=True):
        assert here.places == there.places[::-1]
    left = [stage.fraction for stage in back.stages]
    assert left == sorted(left, reverse=True)
    assert not left or left[-1] == 0


@pytest.mark.parametrize(("columns", "rows"), [(5, 2), (7, 2), (3, 3), (5, 4), (4, 2), (8, 5)])
def test_centre_before_rim_and_sides_change(columns: int, rows: int) -> None:
    places = grid(columns, rows)
    spot = {at.place: at for at in places}
    x, y = 20.0 * (columns - 1), 30.0 * (rows - 1)
    line = tightening_order(places, joint="outline").stages[0].places
    far = [math.hypot(spot[p].x_mm - x, spot[p].y_mm - y) for p in line]
    assert all(after >= before - 0.05 * max(far) for before, after in pairwise(far))
    assert far[0] == pytest.approx(min(far))
    first, second = spot[line[-2]], spot[line[-1]]
    assert (first.x_mm - x) * (second.x_mm - x) + (first.y_mm - y) * (second.y_mm - y) < 0


@given(st.integers(4, 60), st.floats(0, 6.28), st.sampled_from([1, -1]))
def test_across_before_beside_on_a_circle_whichever_way_it_is_numbered(
    count: int, turn: float, way: int
) -> None:
    line = [int(place) - 1 for place in tightening_order(ring(count, turn=turn, way=way)).stages[0].places]
    assert line[0] == 0
    steps = [min((a - b) % count, (b - a) % count) for a, b in pairwise(line)]
    assert steps[0] == count // 2
    if count > 4:
        assert min(steps) > 1, "never a neighbour next"
    if count % 4 == 0:
        assert line == legacy_cross(count)


@pytest.mark.parametrize("quarter", range(1, 16))
def test_legacy_cross_names_each_once_in_fours(quarter: int) -> None:
    line = legacy_cross(4 * quarter)
    assert sorted(line) == list(range(4 * quarter))
    for at in range(0, len(line), 4):
        assert len({place % quarter for place in line[at : at + 4]}) == 1


def test_a_screw_in_the_middle_of_a_circle_comes_first() -> None:
    places = [*ring(8), At("hub", 1.0, 0.0)]
    for joint in ("circular", "outline"):
        assert tightening_order(places, joint=joint).stages[0].places[0] == "hub"  # type: ignore[arg-type]


def test_the_sources_own_order_is_kept_to_the_letter() -> None:
    places = ring(6)
    order = tightening_order(places, given=["6", "1", "5", "2", "6"], torque_Nm=40)
    assert order.from_ == "source"
    assert [stage.places for stage in order.stages] == [("6", "1", "5", "2", "6")]
    assert order.unnamed == ("3", "4")
    assert order.lap == ()
    assert "3, 4" in order.words
    assert loosening_order(order).stages[0].places == ("6", "2", "5", "1")
    staged = tightening_order(places, given=["1", "9"], fractions=[0.5, 1.0])
    assert [stage.fraction for stage in staged.stages] == [0.5, 1.0]
    assert "It names 9" in staged.words


def test_no_final_lap_on_threadlocked_or_angle_tightened() -> None:
    order = tightening_order(ring(6), locked=frozenset({"2", "5"}))
    assert set(order.lap) == {"1", "3", "4", "6"}
    assert "No final lap on" in order.words
    assert tightening_order(ring(6), angle=True).lap == ()


@pytest.mark.parametrize("rounds", [(), (0.5,), (1.0, 0.5), (0.0, 1.0), (0.5, 0.5, 1.0), (0.5, 1.2)])
def test_rounds_must_rise_to_the_whole(rounds: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="rounds"):
        tightening_order(ring(4), fractions=rounds)


def test_places_listed_twice_or_nowhere_are_refused() -> None:
    with pytest.raises(ValueError, match="twice"):
        tightening_order([At("a", 0, 0), At("a", 1, 1)])
    with pytest.raises(ValueError, match="position"):
        tightening_order([At("a", math.nan, 0)])


def test_forty_bosses_are_ordered_at_once() -> None:
    places = [At(f"{n}", 37.0 * (n % 8), 51.0 * (n // 8), 6.0 + 2 * (n % 3)) for n in range(40)]
    start = time.perf_counter()
    tightening_order(places, torque_Nm=25)
    assert time.perf_counter() - start < 0.2


def test_a_half_tightened_screw_never_looks_finished() -> None:
    for stage in (1, 2):
        state = next_state(stage, 3)
        assert not finished(state)
        assert "NOT FINISHED" in words_of(state)
    assert finished(next_state(3, 3))
    assert [held for held in FOLLOWS if finished(State(held))] == ["final", "never there"]
    assert len({words_of(State(held)) for held in FOLLOWS}) == len(FOLLOWS)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="round 4"):
        next_state(4, 3)


def test_states_follow_each_other_only_as_they_can() -> None:
    assert may_follow(State("stage", 1, 3), State("stage", 2, 3))
    assert not may_follow(State("stage", 2, 3), State("stage", 1, 3)), "back only by way of slack"
    assert may_follow(State("stage", 2, 3), State("slack"))
    assert not may_follow(State("never there"), State("in"))
    assert all(may_follow(State("not known"), State(held)) for held in FOLLOWS)
    assert "LOOK" in words_of(State("not known")).upper()
    assert not may_follow(State("final"), State("out"))
