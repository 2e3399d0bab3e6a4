"""Which of the shop's tools can take a size: the right kind and range, in date, fine enough."""

from collections.abc import Iterable, Iterator

from lastbolt.measuring.dimensions import dimension_of
from lastbolt.measuring.sheet import expected
from lastbolt.measuring.tools import past_due, tool_words
from lastbolt.measuring.units import same_kind, told_in
from lastbolt.words.readings import ShopTool, Size

SHARE = 4.0
"""An expanded uncertainty of at most a quarter of the way to the limit (common practice, no source)."""


def tools_for(size: Size, tools: Iterable[ShopTool], today: str = "") -> tuple[str, ...]:
    """The tools that fit, the finest first, each with what is to be known of it; none of a kind that is not
    named for the size, that cannot reach it, or whose calibration ran out."""
    fits = [tool for tool in tools if _fits(tool, size) and not past_due(tool, today)]
    fits.sort(key=lambda tool: _uncertain(tool, size.unit) or float("inf"))
    return tuple(f"{tool.name}{_doubt(tool, size)}" for tool in fits)


def _fits(tool: ShopTool, size: Size) -> bool:
    if tool.kind not in size.tools or not same_kind(tool.unit, size.unit):
        return False
    if tool.kind in tool_words()["travel"]["kinds"]:
        return True
    wanted = expected(size, large=dimension_of(size.what).warm)
    ends = [end for end in (wanted.low, wanted.high) if end]
    low, high = (None if end is None else told_in(end, tool.unit, size.unit) for end in (tool.low, tool.high))
    return all((low is None or low <= end) and (high is None or end <= high) for end in ends)


def _uncertain(tool: ShopTool, unit: str) -> float | None:
    known = [one for one in (tool.uncertainty, tool.resolution) if one is not None]
    return told_in(max(known), tool.unit, unit) if known else None


def _doubt(tool: ShopTool, size: Size) -> str:
    wide, uncertain = min(_widths(size), default=None), _uncertain(tool, size.unit)
    if uncertain is None:
        return " (how fine it reads is not known)"
    if wide is not None and uncertain * SHARE > wide:
        return f" (coarse for it: ± {uncertain:.2g} {size.unit})"
    return ""


def _widths(size: Size) -> Iterator[float]:
    """How far it is from the standard to the limit; without a limit how wide the standard range is."""
    standard, service = size.standard, size.service
    if standard is None:
        return
    if service is None:
        if standard.low is not None and standard.high is not None and standard.high > standard.low:
            yield standard.high - standard.low
        return
    for end, near in ((service.low, standard.low), (service.high, standard.high)):
        if end is not None and near is not None and end != near:
            yield abs(end - near)
