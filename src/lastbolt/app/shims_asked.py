"""Shims chosen from stock for what was measured: packs, a new pinion's pack, a head's worth of valves."""

from collections.abc import Iterator, Sequence

from lastbolt.measuring.differences import named
from lastbolt.measuring.matched import meant
from lastbolt.measuring.readings import Judged
from lastbolt.measuring.sheet import figures_printed, span_words
from lastbolt.measuring.tools import tool_named
from lastbolt.measuring.typed import Typed
from lastbolt.measuring.typed_asks import PinionAsk, ShimAsk, ValveAsk
from lastbolt.measuring.typed_words import typed_words
from lastbolt.measuring.uncertainty import calibration, combine, resolution
from lastbolt.measuring.units import same_kind, told_in
from lastbolt.selecting.shims import Choice, Convention, Limits, Shim, choose, pinion, thickness_wanted
from lastbolt.selecting.valves import ValveShim, matrix
from lastbolt.words.measured import Span
from lastbolt.words.problem import Problem
from lastbolt.words.readings import ShimsChosen, ShopTool, Size

SHOWN, MOST, MOST_SURE = 3, 3, 0.99
LONG = 200
FAR_MM = 0.8
"""No two pinions of one gear are cut so far apart."""
FILL = "the shims fill what is free"
ADDS = "as typed from the source: a shim adds to what was measured"
TAKES = "as typed from the source: a shim takes away from what was measured"
NO_LIMIT = "Name the limit as the sheet does, or type one: NAME: standard 0.10 to 0.20 mm"


def shims_asked(
    typed: Typed,
    found: Judged,
    sizes: Sequence[Size],
    stock: Sequence[Shim] | None,
    tools: Sequence[ShopTool] = (),
) -> tuple[tuple[ShimsChosen, ...], tuple[Problem, ...]]:
    """What was asked for, in its order, and what could not be answered."""
    made: list[ShimsChosen] = []
    told: list[Problem] = []
    asked = bool(typed.shims or typed.pinions or typed.valves)
    if asked and stock is None:
        what = "Shims are asked for, and no stock is given."
        return (), (Problem("LB-M08", what, "--stock", "Give the list of shims: --stock FILE.csv"),)
    for ask in typed.shims:
        one = _pack(ask, found, sizes, stock or ())
        (told if isinstance(one, Problem) else made).append(one)  # type: ignore[arg-type]
    for pinion_ask in typed.pinions:
        if abs(pinion_ask.new_mark - pinion_ask.old_mark) > FAR_MM:
            what = f"Pinion marks {pinion_ask.old_mark:g} and {pinion_ask.new_mark:g} mm lie too far apart."
            do = "Marks are often printed in hundredths or thousandths: type 5 hundredths as 0.05."
            told.append(Problem("LB-M08", what, f"line {pinion_ask.line}", do))
        else:
            made.append(_pinion(pinion_ask, stock or ()))
    for one in _valves(typed.valves, sizes, stock or (), tools):
        (told if isinstance(one, Problem) else made).append(one)  # type: ignore[arg-type]
    return tuple(made), tuple(told)


def _pack(ask: ShimAsk, found: Judged, sizes: Sequence[Size], stock: Sequence[Shim]) -> ShimsChosen | Problem:
    where = f"line {ask.line}"
    size = meant(ask.what, sizes).size
    target = _target(size)
    if size is None or target is None:
        what = f'No limit with a target in millimetres is "{ask.what}".'
        return Problem("LB-M08", what, where, NO_LIMIT)
    known = named(ask.named, (*found.sizes, *found.decided), sizes) if ask.named else None
    if ask.value is None and (known is None or not same_kind(known.unit, "mm") or known.questions):
        what = f'"{ask.named}" is no size in millimetres that was measured and stands.'
        return Problem("LB-M08", what, where, "Measure it first, or type its number.")
    measured, u = ask.value or 0.0, None
    if ask.value is None and known is not None:
        measured = told_in(known.value, known.unit, "mm")
        u = None if known.uncertainty is None else told_in(known.uncertainty, known.unit, "mm")
    convention = None if ask.factor is None else Convention(ADDS if ask.factor > 0 else TAKES, ask.factor)
    wanted = thickness_wanted(measured, target, convention)
    best = choose(measured, target, stock, _most(stock), u, convention)
    told = _why_none(wanted, best, _most(stock))
    return ShimsChosen(
        size.what, _words(target), measured, convention.words if convention else FILL, _words(wanted),
        tuple(_choice(one) for one in best[:SHOWN]), (*told, *_unsure(best)), size.citations,
    )  # fmt: skip


def _most(stock: Sequence[Shim]) -> int:
    """How many shims a pack may have: of a very long list two, all threes of it would be millions."""
    return MOST if len(stock) <= LONG else MOST - 1


def _target(size: Size | None) -> Limits | None:
    """The standard range, which a setting aims at; the limit of service where there is no other."""
    span = None if size is None or size.barred else size.standard or size.service
    if span is None or not same_kind(span.unit, "mm"):
        return None
    low, high = (None if end is None else told_in(end, span.unit, "mm") for end in (span.low, span.high))
    return Limits(low, high)


def _words(limits: Limits) -> str:
    span = Span(limits.low, limits.high, "mm")
    return span_words(span, max(2, figures_printed(span)))


def _choice(one: Choice) -> str:
    if one.probability is None:
        return one.words
    likely = "more than 99%" if one.probability > MOST_SURE else f"{one.probability:.0%}"
    return f"{one.words} Meets the target with {likely}."


def _why_none(wanted: Limits, best: Sequence[Choice], most: int) -> tuple[str, ...]:
    if best:
        return ()
    if wanted.high is not None and wanted.high < 0:
        return ("What was measured is too small already: no shim makes it larger.",)
    return (f"No pack of at most {most} shims in stock makes {_words(wanted)}.",)


def _unsure(best: Sequence[Choice]) -> tuple[str, ...]:
    if best and best[0].probability is not None and best[0].probability < 0.95:
        return ("Too uncertain for this target: measure again after it is together.",)
    return ("Measure again after it is together.",) if best else ()


def _pinion(ask: PinionAsk, stock: Sequence[Shim]) -> ShimsChosen:
    way = "thicker" if ask.factor > 0 else "thinner"
    convention = Convention(f"as typed from the source: a more positive mark wants a {way} pack", ask.factor)
    pack = pinion(ask.pack, ask.wider, ask.old_mark, ask.new_mark, convention)
    step = min((shim.thickness_mm for shim in stock), default=0.0)
    near = sorted(
        choose(pack, Limits(-step / 2, step / 2), stock, _most(stock)),
        key=lambda one: (abs(one.left_mm), len(one.shims)),
    )
    told = () if near else (f"No pack of at most {_most(stock)} shims in stock comes near {pack:.3f} mm.",)
    return ShimsChosen(
        "Pinion pack", f"{pack:.3f} mm", ask.pack, convention.words, f"{pack:.3f} mm",
        tuple(f"{_named(one)}: {one.total_mm:.3f} mm" for one in near[:SHOWN]),
        (*told, "Check the contact pattern of the teeth before it is closed."),
    )  # fmt: skip


def _named(one: Choice) -> str:
    return " + ".join(shim.name for shim in one.shims)


def _valves(
    asks: Sequence[ValveAsk], sizes: Sequence[Size], stock: Sequence[Shim], tools: Sequence[ShopTool]
) -> Iterator[ShimsChosen | Problem]:
    if not asks:
        return
    targets: dict[str, Limits] = {}
    cited = []
    for ask in asks:
        size = meant(
            f"{typed_words()['valve_lash'][0]} {ask.valve}",
            [one for one in sizes if one.dimension == "valve lash"],
        ).size
        target = _target(size)
        if size is None or target is None:
            what = f'No limit of valve lash is for valve "{ask.valve}".'
            yield Problem("LB-M08", what, f"line {ask.line}", NO_LIMIT)
            return
        targets[ask.valve] = target
        cited += [one for one in size.citations if one not in cited]
    if len(targets) < len(asks):
        yield Problem(
            "LB-M08", "A valve stands there twice.", f"line {asks[-1].line}", "Strike one of the lines."
        )
        return
    made = matrix(
        {one.valve: one.lash for one in asks}, {one.valve: one.shim for one in asks}, targets, stock,
        max((_spread(one.tool, tools) for one in asks), default=0.0) or None,
    )  # fmt: skip
    rows = tuple(f"{one.valve}: {_valve(one)}" for one in made.valves)
    span = " and ".join(dict.fromkeys(_words(one) for one in targets.values()))
    yield ShimsChosen(
        "Valve lash", span, 0.0, "lash after = lash + shim now - shim chosen", made.words.rstrip("."), rows,
        ("Taken cold or hot as the source says. Turn twice by hand and measure again.",), tuple(cited),
    )  # fmt: skip


def _valve(one: ValveShim) -> str:
    if one.thickness_mm is None or one.lash_after_mm is None:
        return "no shim fits"
    how = {"stays": "stays", "moved": f"from valve {one.came_from}", "new": f"new, {one.came_from}"}
    likely = (
        f" ({one.probability:.0%} sure)"
        if one.probability is not None and one.probability < MOST_SURE
        else ""
    )
    how_said = how.get(one.from_, one.from_)
    return f"{one.thickness_mm:.3f} mm, {how_said}; lash then {one.lash_after_mm:.3f} mm{likely}"


def _spread(name: str, tools: Sequence[ShopTool]) -> float:
    """The standard uncertainty of one reading with a tool, mm; nothing where the tool is not known."""
    tool = tool_named(name, tools)
    if tool is None or not same_kind(tool.unit, "mm"):
        return 0.0
    parts = [resolution(tool.resolution)] if tool.resolution else []
    parts += [calibration(tool.uncertainty)] if tool.uncertainty else []
    return told_in(combine(parts).standard, tool.unit, "mm") if parts else 0.0
