"""Orders and rounds of tightening against published sequences.

"Read" below means that the figures were read from a stored copy of a public page; "from memory" means that
nobody looked them up: agreement with those shows that two memories agree, not that either is true.
"""

from math import cos, pi, sin

import pytest

from lastbolt.tightening.order import At, loosening_order, tightening_order

LEGACY_CROSS = {
    4: "1 3 2 4",
    8: "1 5 3 7 2 6 4 8",
    12: "1 7 4 10 2 8 5 11 3 9 6 12",
    16: "1 9 5 13 3 11 7 15 2 10 6 14 4 12 8 16",
    20: "1 11 6 16 3 13 8 18 5 15 10 20 2 12 7 17 4 14 9 19",
    24: "1 13 7 19 4 16 10 22 2 14 8 20 5 17 11 23 3 15 9 21 6 18 12 24",
    28: "1 15 8 22 4 18 11 25 6 20 13 27 2 16 9 23 5 19 12 26 3 17 10 24 7 21 14 28",
    32: "1 17 9 25 5 21 13 29 3 19 11 27 7 23 15 31 2 18 10 26 6 22 14 30 4 20 12 28 8 24 16 32",
}
ROUNDS = [(0.3, 0.6, 1.0), (0.2, 0.4, 0.8, 1.0), (0.25, 0.6, 1.0)]


def circle(count: int) -> list[At]:
    """Screws on a circle, number one at the top, clockwise."""
    turns = [2 * pi * number / count for number in range(count)]
    return [At(str(number + 1), 80 * sin(turn), 80 * cos(turn)) for number, turn in enumerate(turns)]


def head(columns: int = 5) -> list[At]:
    """Two rows of screws, as on a cylinder head."""
    return [At(f"{row}{column}", 90.0 * column, 110.0 * row) for row in (0, 1) for column in range(columns)]


@pytest.mark.parametrize(("count", "sequence"), LEGACY_CROSS.items())
def test_the_cross_pattern_of_a_flange(count: int, sequence: str) -> None:
    """ASME PCC-1-2010 table 4, legacy cross pattern, bolts numbered clockwise: from memory (12 also read)."""
    order = tightening_order(circle(count), joint="circular")
    assert order.from_ == "common practice"
    assert order.source
    for stage in order.stages:
        assert stage.places == tuple(sequence.split())


@pytest.mark.parametrize("count", [4, 6, 8, 10, 12, 14, 16, 20, 24])
def test_opposite_pairs(count: int) -> None:
    """Gasket makers' guidance (read): 12 o'clock, 6 o'clock, then the pair across, until all are done."""
    numbers = [int(place) for place in tightening_order(circle(count)).stages[0].places]
    assert sorted(numbers) == list(range(1, count + 1))
    for one, other in zip(numbers[::2], numbers[1::2], strict=True):
        assert abs(one - other) == count // 2


@pytest.mark.parametrize("rounds", ROUNDS)
def test_rounds_as_a_source_states_them(rounds: tuple[float, ...]) -> None:
    """30/60/100 % for 4 and 8 bolts, 20/40/80/100 % for 12 and more (both read); 25/60/100 % from memory."""
    order = tightening_order(circle(8), torque_Nm=120.0, fractions=rounds)
    assert [stage.fraction for stage in order.stages] == list(rounds)
    assert [stage.torque_Nm for stage in order.stages] == pytest.approx([120.0 * part for part in rounds])
    assert all(set(stage.places) == {str(number + 1) for number in range(8)} for stage in order.stages)


def test_rounds_by_thirds_where_none_are_stated() -> None:
    """Covers: 1/3, 2/3, all of the torque. Common practice, no source (from memory)."""
    order = tightening_order(head(), torque_Nm=90.0)
    assert [stage.torque_Nm for stage in order.stages] == pytest.approx([30.0, 60.0, 90.0])
    assert [stage.number for stage in order.stages] == [1, 2, 3]


def test_every_screw_has_its_last_round() -> None:
    """Three pages (read): after the pattern once more over all bolts at the full torque."""
    assert set(tightening_order(circle(8)).lap) == {str(number + 1) for number in range(8)}


@pytest.mark.parametrize("count", [4, 8, 12])
def test_the_last_round_goes_round_the_circle(count: int) -> None:
    """A piping reference and a gasket maker (read): "one final circular pass"; so PCC-1 table 2 (from
    memory)."""
    assert tightening_order(circle(count)).lap == tuple(str(number + 1) for number in range(count))


def test_screws_of_one_assembly_alternate_within_each_stage() -> None:
    """US Army TM 10-3930-669-20, appendix E-4 (read): stage i on every screw, then stage i + 1."""
    order = tightening_order([At("left", 0, 0), At("right", 60, 0)], torque_Nm=60.0)
    assert len(order.stages) > 1
    assert all(sorted(stage.places) == ["left", "right"] for stage in order.stages)


def test_angle_after_torque_has_no_lap_at_full_torque() -> None:
    """US Army TM 10-3930-669-20, table E-1 (read): 40 N·m, then four angles, and no torque after them."""
    assert tightening_order(head(), torque_Nm=40.0, angle=True).lap == ()


def test_a_head_from_its_middle_outwards() -> None:
    """General engine practice (from memory): start at the centre, go outwards, changing sides and ends."""
    places = tightening_order(head(), joint="outline").stages[0].places
    away = [abs(int(place[1]) - 2) for place in places]
    assert away == sorted(away)
    assert {place[0] for place in places[:2]} == {"0", "1"}
    assert set(places[-4:]) == {"00", "04", "10", "14"}


def test_loosening_from_the_ends() -> None:
    """General engine practice (from memory): the reverse of tightening, in stages, never fully at once."""
    order = tightening_order(head(), torque_Nm=90.0)
    back = loosening_order(order)
    assert len(back.stages) == len(order.stages)
    assert all(stage.places == order.stages[0].places[::-1] for stage in back.stages)
    assert back.stages[-1].fraction == 0.0
    assert all(stage.torque_Nm is None for stage in back.stages)


def test_a_sources_own_order_stands() -> None:
    """A maker's order comes before any pattern (common practice, no source); nothing is added to it."""
    order = tightening_order(circle(4), given=("2", "1", "4"))
    assert order.from_ == "source"
    assert [stage.places for stage in order.stages] == [("2", "1", "4")]
    assert order.unnamed == ("3",)


@pytest.mark.parametrize("rounds", [(0.6, 0.3, 1.0), (0.3, 0.6), (0.0, 1.0), (0.5, 1.2)])
def test_rounds_that_are_none(rounds: tuple[float, ...]) -> None:
    """Every page that was read rises to 100 % and ends there."""
    with pytest.raises(ValueError, match=r"."):
        tightening_order(circle(4), fractions=rounds)


def test_places_listed_twice_or_not_at_all() -> None:
    """A screw listed twice is a mistake of the list; without screws there are no rounds."""
    with pytest.raises(ValueError, match=r"."):
        tightening_order([At("1", 0, 0), At("1", 5, 0)])
    assert tightening_order([]).stages == ()
