"""Torques in running text: units, ranges, tolerances, angles, stages."""

import pytest

from lastbolt.reading.torques import read_torque, torques_in


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("10 N·m (1.0 kgf·m, 7.4 lbf·ft)", [(10, 10, "N·m"), (1, 1, "kgf·m"), (7.4, 7.4, "lbf·ft")]),
        ("35 lb-ft (47 Nm)", [(35, 35, "lbf·ft"), (47, 47, "N·m")]),
        ("50 N.m / 37 lbf.ft", [(50, 50, "N·m"), (37, 37, "lbf·ft")]),
        ("78 in-lbs", [(78, 78, "lbf·in")]),
        ("75-80 in-lb (8.4-9.0 Nm)", [(75, 80, "lbf·in"), (8.4, 9, "N·m")]),
        ("25 ± 2 Nm", [(23, 27, "N·m")]),
        ("10,5 Nm", [(10.5, 10.5, "N·m")]),
        ("20 to 25 N m", [(20, 25, "N·m")]),
        ("the two screws M6 x 25 to 9 N·m (6.6 lbf·ft)", [(9, 9, "N·m"), (6.6, 6.6, "lbf·ft")]),
        ("the two screws M10 x 35 to 45 N·m", [(45, 45, "N·m")]),
    ],
)
def test_values_side_by_side_are_one_torque(text, printed):
    (torque,) = torques_in(text)
    assert list(torque.value.printed) == printed


def test_two_groups_of_screws_are_two_torques():
    found = [torque.value.printed for torque in torques_in("18 of the 22 to 50 Nm, the other 4 to 35 Nm")]
    assert found == [((50, 50, "N·m"),), ((35, 35, "N·m"),)]


def test_stages():
    listed = torques_in("in three stages to 15, 30 and 50 Nm")
    assert [(t.value.stage, t.value.torque_Nm) for t in listed] == [
        ("1", (15, 15)),
        ("2", (30, 30)),
        ("3", (50, 50)),
    ]
    named = torques_in("stage 1: 20 Nm; stage 2: 40 Nm then 1/4 turn")
    assert [(t.value.stage, t.value.angle_deg) for t in named] == [("1", None), ("2", 90)]
    assert [t.value.stage for t in torques_in("first to 20 Nm, then to 40 Nm")] == ["1", "2"]


def test_angle_behind_a_torque():
    (torque,) = torques_in("40 Nm + 90°")
    assert (torque.value.torque_Nm, torque.value.angle_deg) == ((40, 40), 90)


def test_disagreeing_units_are_seen():
    assert torques_in("25 Nm (30 lb-ft)")[0].agree == "no"
    assert torques_in("25 Nm (18 lb-ft)")[0].agree == "yes"
    assert torques_in("25 Nm")[0].agree == "unknown"


@pytest.mark.parametrize("text", ["25 to 30 in the", "5 kg", "6 mm", "2 m long", "20 in. wide"])
def test_no_torque(text):
    assert torques_in(text) == []


def test_cell_with_the_unit_in_its_heading():
    torque = read_torque("22", "N·m")
    assert torque is not None
    assert torque.value.torque_Nm == (22, 22)
    assert read_torque("22 places", "N·m") is None
