"""Laws that hold of every reading: units, shifts, order of events, and a finer tool."""

from hypothesis import assume, given
from hypothesis import strategies as st
from msgspec.structs import replace
from sizes import FLOAT, MICROMETER, SEAT, TOOLS, job, limit, read, sheet

from lastbolt.measuring.decide import Rule
from lastbolt.measuring.readings import Setting, judged
from lastbolt.measuring.typed import typed_readings
from lastbolt.words.readings import Decided, ShopTool

SIZES = st.floats(29.90, 30.10).map(lambda value: round(value, 3))
RULES: st.SearchStrategy[Rule] = st.sampled_from(["printed limit", "guarded acceptance", "guarded rejection"])
RANK = ["beyond", "too close for this tool", "worn, within limit", "within"]


def one(value: float, tool: ShopTool, rule: Rule = "printed limit", again: float | None = None) -> Decided:
    values = (value,) if again is None else (value, again)
    found = judged(
        job(read(1, "seat of front bearing", *values, tool=tool)), sheet(SEAT), (tool,), Setting(rule)
    )
    return found.decided[0]


@given(SIZES, RULES)
def test_the_unit_on_the_tool_changes_nothing(value: float, rule: Rule) -> None:
    ends = {"low": 25 / 25.4, "high": 50 / 25.4}
    inch = replace(MICROMETER, unit="in", resolution=0.001 / 25.4, uncertainty=0.004 / 25.4, **ends)
    metric, imperial = one(value, MICROMETER, rule), one(value / 25.4, inch, rule)
    assert abs(metric.value - imperial.value) < 1e-5
    if abs(abs(metric.value - 29.99) - metric.k * (metric.uncertainty or 0)) > 1e-4:
        assert metric.says == imperial.says


@given(SIZES, SIZES)
def test_less_of_a_shaft_is_never_better(value: float, other: float) -> None:
    small, large = sorted((value, other))
    small_says, large_says = one(small, MICROMETER).says, one(large, MICROMETER).says
    if "not decided" not in (small_says, large_says):
        assert RANK.index(small_says) <= RANK.index(large_says)


@given(SIZES)
def test_a_finer_tool_never_leaves_more_open(value: float) -> None:
    assume(value <= 30.011)  # above a new shaft's size it is asked whether this is the part at all
    fine = replace(MICROMETER, resolution=0.0001, uncertainty=0.0004)
    if one(value, MICROMETER).says != "too close for this tool":
        assert one(value, fine).says == one(value, MICROMETER).says


@given(st.permutations([0.13, 0.14, 0.15, 0.16, 0.18]))
def test_the_order_of_readings_does_not_matter(values: list[float]) -> None:
    events = [read(n, "end float", value, by=f"r{n % 2}") for n, value in enumerate(values)]
    same = [read(n, "end float", value, by=f"r{n % 2}") for n, value in enumerate(values)]
    first = judged(job(*events), sheet(FLOAT), TOOLS).decided[0]
    second = judged(job(*reversed(same)), sheet(FLOAT), TOOLS).decided[0]
    assert abs(first.value - second.value) < 1e-12
    assert abs((first.uncertainty or 0) - (second.uncertainty or 0)) < 1e-12


@given(st.lists(st.text(max_size=40), max_size=12))
def test_every_typed_line_is_something_or_told(lines: list[str]) -> None:
    text = "\n".join(lines)
    found = typed_readings(text)
    said = {one.line for one in found.wrong} | set(found.lines.values())
    silent = [
        number for number, line in enumerate(text.splitlines(), 1)
        if line.partition("#")[0].strip() and number not in said
    ]  # fmt: skip
    # What says nothing by itself stands for what follows: who, tool, warmth, material, a struck line.
    begins = (
        "by",
        "with",
        "tool",
        "using",
        "at",
        "of",
        "strike",
        "reader",
        "temperature",
        "material",
        "set",
        "after",
        "made",
        "room",
        "part",
    )
    assert all(text.splitlines()[number - 1].strip().casefold().startswith(begins) for number in silent)


@given(st.floats(1, 400), st.floats(0.001, 0.1))
def test_a_part_of_the_middle_of_its_range_is_within(middle: float, half: float) -> None:
    size = sheet(limit("Shaft diameter", middle - half, middle + half, middle - 2 * half, "at least"))
    tool = ShopTool("any", "outside micrometer", "mm", None, None, half / 50, half / 20)
    found = judged(job(read(1, "shaft diameter", middle, tool=tool)), size, (tool,))
    assert found.decided[0].says == "within"
