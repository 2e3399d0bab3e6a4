"""With which wrench each torque of the way back is tightened, and what to set on it, in its own unit."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from lastbolt.app.plan_shown import torque_words
from lastbolt.tightening.adaptor import Wrench, fits, setting_Nm
from lastbolt.tightening.units_agree import both_units, newton_metres
from lastbolt.words.back import BackLine
from lastbolt.words.machine import TorqueValue
from lastbolt.words.readings import ShopTool

NONE_FITS = "no wrench of the list reaches it"
NOT_AGREED = "its two units do not agree: settle first which is meant"


class Adaptor(Struct, frozen=True):
    """What stands between wrench and screw. `lever_mm`: from the middle of the grip to the drive; `reach_mm`:
    from the drive to the middle of the screw; 0 degrees: straight ahead."""

    lever_mm: float
    reach_mm: float
    angle_deg: float = 0.0


class Rig(Struct, frozen=True):
    """The wrenches that there are; `only`: the one that was asked for."""

    tools: tuple[ShopTool, ...]
    today: str
    only: ShopTool | None = None
    adaptor: Adaptor | None = None


class WrenchLine(Struct, frozen=True):
    """One torque: its words, the lines of the way back that want it, the wrench, what to set, and doubts."""

    torque: str
    lines: tuple[str, ...]
    wrench: str = ""
    setting: str = ""
    doubts: tuple[str, ...] = ()


def often(lines: Sequence[WrenchLine]) -> tuple[str, ...]:
    """Doubts of several torques, to be said once."""
    counts = Counter(doubt for one in lines if one.wrench for doubt in one.doubts)
    return tuple(doubt for doubt, times in counts.items() if times > 1)


def is_wrench(tool: ShopTool) -> bool:
    """Whether a tool of the list reads a torque."""
    return newton_metres(tool.unit) is not None


def wrench_lines(lines: Iterable[BackLine], rig: Rig) -> tuple[WrenchLine, ...]:
    """Each torque of the way back once, the smallest first."""
    by: dict[tuple[float, float], list[tuple[TorqueValue, str]]] = {}
    for one in lines:
        for value in one.line.torques:
            if value.torque_Nm is not None and not value.limit and one.line.kind == "step":
                by.setdefault(value.torque_Nm, []).append((value, _at(one)))
    return tuple(_line(ends, some, rig) for ends, some in sorted(by.items()))


def adaptor_words(adaptor: Adaptor | None) -> str:
    """How the adaptor stands, and where the hand has to be for the settings to hold."""
    if adaptor is None:
        return ""
    ahead = {0.0: "straight ahead", 90.0: "at a right angle", 180.0: "turned back"}
    way = ahead.get(adaptor.angle_deg, f"at {adaptor.angle_deg:g} degrees")
    return (
        f"Settings hold with the adaptor {adaptor.reach_mm:g} mm {way}, and the hand on the middle of the "
        f"grip, {adaptor.lever_mm:g} mm from the drive."
    )


def _at(one: BackLine) -> str:
    line = one.line
    if one.how != "told" or not line.number:
        return line.words.rstrip(".")
    return f"{line.number} step {line.mark}" if line.mark else line.number


def _line(ends: tuple[float, float], some: Sequence[tuple[TorqueValue, str]], rig: Rig) -> WrenchLine:
    value = some[0][0]
    made = WrenchLine(torque_words(value), tuple(dict.fromkeys(at for _, at in some)))
    if any(not _agrees(one) for one, _ in some):
        return WrenchLine(made.torque, made.lines, doubts=(NOT_AGREED,))
    settings = tuple(_set(end, rig.adaptor) for end in ends)
    tools = [rig.only] if rig.only else [one for one in rig.tools if is_wrench(one)]
    tried = sorted(
        ((_doubts(tool, settings, rig.today), tool) for tool in tools),
        key=lambda it: (len(it[0]), it[1].high or 0.0),
    )
    if not tried or (rig.only is None and not _reaches(tried[0][1], settings)):
        return WrenchLine(made.torque, made.lines, doubts=(NONE_FITS,))
    doubts, tool = tried[0]
    return WrenchLine(made.torque, made.lines, tool.name, _shown(settings, tool), doubts)


def _agrees(value: TorqueValue) -> bool:
    printed = tuple((low, high, unit) for low, high, unit in value.printed)
    return len(printed) < 2 or both_units(printed).agree


def _set(torque_Nm: float, adaptor: Adaptor | None) -> float:
    if adaptor is None:
        return torque_Nm
    return setting_Nm(torque_Nm, adaptor.lever_mm, adaptor.reach_mm, adaptor.angle_deg)


def _wrench(tool: ShopTool) -> Wrench:
    """The tool in N·m; an end that is not known is none, and is doubted."""
    factor = newton_metres(tool.unit) or 1.0
    low, high, step = ((end or 0.0) * factor for end in (tool.low, tool.high, tool.resolution))
    return Wrench(tool.name, low, high, step, tool.calibrated_until, unit=tool.unit)


def _doubts(tool: ShopTool, settings: Iterable[float], today: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one for setting in settings for one in fits(_wrench(tool), setting, today)))


def _reaches(tool: ShopTool, settings: Iterable[float]) -> bool:
    wrench = _wrench(tool)
    return all(wrench.low_Nm <= setting <= wrench.high_Nm for setting in settings)


def _shown(settings: Sequence[float], tool: ShopTool) -> str:
    """The setting in the wrench's unit, at the nearest of its marks."""
    factor = newton_metres(tool.unit) or 1.0
    ends = tuple(dict.fromkeys(_at_mark(setting / factor, tool.resolution) for setting in settings))
    return f"{' to '.join(ends)} {tool.unit}"


def _at_mark(value: float, step: float | None) -> str:
    """
    >>> _at_mark(17.7, 0.5), _at_mark(24.0, 1.0), _at_mark(20.87, None)
    ('17.5', '24', '20.9')
    """
    return f"{round(value / step) * step:.6g}" if step else f"{value:.3g}"


def named(tools: Iterable[ShopTool]) -> Iterator[str]:
    """The wrenches that the list has, by name."""
    yield from (tool.name for tool in tools if is_wrench(tool))
