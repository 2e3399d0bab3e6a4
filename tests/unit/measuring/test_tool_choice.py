"""The shop's tools that can take a size."""

from msgspec.structs import replace
from sizes import BORE, BORE_GAUGE, CALIPER, DIAL, FLOAT, INCH, MICROMETER, PLATE, SEAT, TOOLS, sheet

from lastbolt.measuring.tool_choice import tools_for


def test_kind_range_and_date_decide() -> None:
    seat, bore, end_float = sheet(SEAT, BORE, FLOAT)
    # 0.0002 in = 0.00508 mm, a micrometer's 0.004 mm: both more than a quarter of 30.002 - 29.990 = 0.012 mm.
    assert [one.partition(" (")[0] for one in tools_for(seat, TOOLS, "2026-12-01")] == [
        MICROMETER.name,
        INCH.name,
    ]
    assert all("coarse" in one for one in tools_for(seat, TOOLS, "2026-12-01"))
    assert [one.partition(" (")[0] for one in tools_for(bore, TOOLS)] == [BORE_GAUGE.name]
    assert tools_for(end_float, TOOLS, "2026-06-01") == (DIAL.name,)
    assert tools_for(end_float, TOOLS, "2026-12-01") == ()
    assert tools_for(seat, [replace(MICROMETER, high=30.0)]) == ()


def test_a_plate_may_be_taken_with_a_caliper() -> None:
    # From 3.1 down to 2.8 mm: a quarter is 0.075 mm.
    assert tools_for(sheet(PLATE)[0], [CALIPER]) == ("caliper",)
    rough = replace(CALIPER, uncertainty=0.08)
    assert tools_for(sheet(PLATE)[0], [rough]) == ("caliper (coarse for it: ± 0.08 mm)",)
    unknown = replace(CALIPER, uncertainty=None, resolution=None)
    assert "not known" in tools_for(sheet(PLATE)[0], [unknown])[0]
