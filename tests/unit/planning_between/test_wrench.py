"""What to set on which wrench: in its own unit, within what it is good for, with an adaptor on it."""

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from small_book import M8X20, machine, names, proc, step

from lastbolt.app.make_back import make_back
from lastbolt.app.make_plan import make_plan
from lastbolt.app.wrench_shown import NONE_FITS, NOT_AGREED, Adaptor, Rig, WrenchLine, often, wrench_lines
from lastbolt.cli.main import main
from lastbolt.edge import documents
from lastbolt.words.machine import Machine, TorqueValue
from lastbolt.words.readings import ShopTool

FOOT_POUND_NM = 0.45359237 * 9.80665 * 0.3048
"""lbf·ft by the exact definitions of pound, standard gravity and foot (NIST SP 811, appendix B.8)."""
SMALL = ShopTool("small", "torque gauge", "N·m", 5.0, 50.0, 0.5, None, "2027-03-31")
LARGE = ShopTool("large", "torque gauge", "N·m", 40.0, 200.0, 1.0, None, "2027-03-31")
FEET = ShopTool("feet", "torque gauge", "lbf·ft", 10.0, 80.0, 1.0, None, "2027-03-31")
DIAL = ShopTool("dial", "dial gauge", "mm", 0.0, 10.0, 0.01, 0.006, "2027-03-31")
TODAY = "2026-12-01"


def value(low: float, high: float, *printed: tuple[float, str]) -> TorqueValue:
    said = tuple((one, one, unit) for one, unit in printed) or ((low, high, "N·m"),)
    return TorqueValue((low, high), said, words=f"{low:g} N·m")


def book(*values: TorqueValue) -> Machine:
    fits = step("1", "Fit the cover and tighten.", names("cover", "install"))
    return machine(
        proc("4.1", "Removing the cover", "separate", "cover",
             step("1", "Remove the screws.", names("screws", count=6, kind=M8X20)),
             step("2", "Take the cover off.", names("cover"))),
        with_torques(proc("4.2", "Fitting the cover", "join", "cover", fits), values),
    )  # fmt: skip


def with_torques(procedure, values):  # type: ignore[no-untyped-def]
    return replace(procedure, steps=(replace(procedure.steps[0], torques=values),))


def lines(rig: Rig, *values: TorqueValue) -> tuple[WrenchLine, ...]:
    made = book(*values)
    return wrench_lines(make_back(made, make_plan(made, "4.1")).lines, rig)


def test_the_smallest_wrench_that_is_good_for_it_is_taken_and_no_measuring_tool() -> None:
    rig = Rig((DIAL, LARGE, SMALL), TODAY)
    found = lines(rig, value(24, 24), value(75, 75))
    assert [(one.wrench, one.setting, one.doubts) for one in found] == [
        ("small", "24 N·m", ()), ("large", "75 N·m", ()),
    ]  # fmt: skip
    assert found[0].lines == ("4.2 step 1",)


def test_a_wrench_in_feet_and_pounds_is_set_in_its_own_unit() -> None:
    (found,) = lines(Rig((FEET,), TODAY), value(75, 75))
    assert found.setting == "55 lbf·ft"
    assert math.isclose(75 / FOOT_POUND_NM, 55, abs_tol=0.5)
    (spread,) = lines(Rig((FEET,), TODAY), value(70, 80))
    assert spread.setting == "52 to 59 lbf·ft"


@given(
    st.floats(15, 45), st.floats(200, 700), st.floats(0, 150), st.floats(0, 180),
    st.sampled_from([SMALL, FEET]),
)  # fmt: skip
def test_what_is_set_brings_the_torque_to_the_screw(
    torque_Nm: float, lever_mm: float, reach_mm: float, angle_deg: float, tool: ShopTool
) -> None:
    """The moment about the screw: the force on the grip times its lever arm along the wrench (statics)."""
    wide = replace(tool, low=1.0, high=500.0, resolution=None)
    rig = Rig((wide,), TODAY, wide, Adaptor(lever_mm, reach_mm, angle_deg))
    (found,) = lines(rig, value(torque_Nm, torque_Nm))
    unit_Nm = FOOT_POUND_NM if tool is FEET else 1.0
    force_N = float(found.setting.split()[0]) * unit_Nm / (lever_mm / 1000)
    arm_mm = lever_mm + reach_mm * math.cos(math.radians(angle_deg))
    assert math.isclose(force_N * arm_mm / 1000, torque_Nm, rel_tol=0.006)


def test_none_is_made_up_where_none_reaches_and_doubts_are_told() -> None:
    rig = Rig((SMALL,), TODAY)
    assert lines(rig, value(140, 140))[0].doubts == (NONE_FITS,)
    (low,) = lines(rig, value(8, 8))
    assert low.wrench == "small"
    assert "below what small is good for: 10 to 50 N·m" in low.doubts[0]
    old = replace(SMALL, calibrated_until="2026-06-30")
    asked = Rig((old,), TODAY, old)
    found = lines(asked, value(24, 24), value(30, 30))
    assert often(found) == ("small is out of calibration since 2026-06-30",)


def test_a_torque_whose_units_disagree_is_set_on_nothing() -> None:
    (found,) = lines(Rig((SMALL, LARGE), TODAY), value(140, 140, (140, "N·m"), (133, "lbf·ft")))
    assert (found.wrench, found.doubts) == ("", (NOT_AGREED,))


@pytest.fixture
def model(tmp_path: Path) -> str:
    documents.save(tmp_path / "m.json", book(value(24, 24)))
    return str(tmp_path / "m.json")


def test_the_command_takes_a_range_and_an_adaptor(model: str, capsys: pytest.CaptureFixture[str]) -> None:
    args = ["refit", "4.1", "--model", model, "--wrench", "5-50 N·m", "--adaptor", "100", "--lever", "400"]
    assert main(args) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "set 19.2 N·m (4.2 step 1)" in said
    assert "hand on the middle of the grip, 400 mm" in said


@pytest.mark.parametrize(
    "more",
    [
        ["--adaptor", "60"],
        ["--wrench", "the good one"],
        ["--wrench", "5-50 mm"],
        ["--wrench", "5-50 N·m", "--adaptor", "60"],
        ["--wrench", "5-50 N·m", "--adaptor", "long", "--lever", "300"],
        ["--wrench", "5-50 N·m", "--adaptor", "60 at 270", "--lever", "300"],
        ["--wrench", "5-50 N·m", "--adaptor", "400 at 180", "--lever", "300"],
    ],
)
def test_what_cannot_be_reckoned_with_is_refused(
    more: list[str], model: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["refit", "4.1", "--model", model, *more]) == 2
    said = capsys.readouterr()
    assert "LB-D26" in said.out + said.err


def test_a_list_of_the_shop_may_hold_wrenches_in_any_unit(
    model: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop = tmp_path / "tools.csv"
    shop.write_text(
        "name,kind,unit,range,resolution,calibrated until\n"
        "blue,torque wrench,lb-ft,10-80,1,2027-03-31\ncaliper,vernier caliper,mm,0-150,0.02,2027-03-31\n",
        "utf-8",
    )
    sheet = tmp_path / "s.pdf"
    args = ["refit", "4.1", "--model", model, "--tools", str(shop), "--today", TODAY, "--sheet", str(sheet)]
    assert main(args) == 1
    said = capsys.readouterr().out
    assert "blue: set 18 lbf·ft" in said
    assert "caliper" not in said
    assert sheet.read_bytes().startswith(b"%PDF")
