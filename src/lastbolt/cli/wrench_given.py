"""The wrench that a command was given: the shop's list, the one to take, and an adaptor on it."""

import re
from argparse import Namespace
from datetime import date
from pathlib import Path

from lastbolt.app.wrench_shown import Adaptor, Rig, WrenchLine, adaptor_words, named, often
from lastbolt.cli import say
from lastbolt.edge.shop_lists import tools_from
from lastbolt.measuring.tools import tool_named
from lastbolt.tightening.adaptor import setting_Nm
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.readings import ShopTool

_ADAPTOR = re.compile(
    r"\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*(?:(?:at|@)\s*(\d+(?:[.,]\d+)?)\s*(?:°|deg\w*)?)?\s*", re.I
)
_RANGE = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(?:-|–|to)\s*(\d+(?:[.,]\d+)?)\s*(\S.*?)\s*", re.I)


def rig_of(args: Namespace) -> tuple[Rig | None, tuple[Problem, ...]]:
    """The wrenches that the command was given, and what is not understood of them; None: it was given none.

    Raises:
        Refusal: the wrench or the adaptor is not understood.
    """
    if not (args.tools or args.wrench or args.adaptor):
        return None, ()
    tools, told = tools_from(Path(args.tools)) if args.tools else ((), ())
    only = _only(args.wrench, tools) if args.wrench else None
    today = args.today or date.today().isoformat()
    if only is None and not tools:
        raise _refused(
            "An adaptor says nothing without a wrench.", args.adaptor, "Give --wrench or --tools too."
        )
    return Rig(tools, today, only, _adaptor(args.adaptor, args.lever)), told


def _only(said: str, tools: tuple[ShopTool, ...]) -> ShopTool:
    found = tool_named(said, tools)
    if found is not None:
        return found
    span = _RANGE.fullmatch(said)
    made = ShopTool(said, unit=span[3], low=_number(span[1]), high=_number(span[2])) if span else None
    if made is not None and list(named([made])):
        return made
    known = ", ".join(named(tools))
    do = f"Give one of: {known}." if known else 'Give its range: "5-50 N·m".'
    raise _refused("No wrench is known by that name.", said, do)


def _adaptor(said: str | None, lever_mm: float | None) -> Adaptor | None:
    if not said:
        return None
    found = _ADAPTOR.fullmatch(said)
    if found is None:
        raise _refused("The adaptor is not understood.", said, 'Write "60", or "60 at 90" for a right angle.')
    if lever_mm is None or lever_mm <= 0:
        do = "Measure from the middle of the grip to the drive, and give it as --lever."
        raise _refused("What an adaptor changes depends on the wrench's length.", said, do)
    adaptor = Adaptor(lever_mm, _number(found[1]), _number(found[2] or "0"))
    if adaptor.angle_deg > 180:
        raise _refused("The adaptor is not understood.", said, "Its angle is from 0, straight ahead, to 180.")
    try:
        setting_Nm(1.0, adaptor.lever_mm, adaptor.reach_mm, adaptor.angle_deg)
    except ValueError as wrong:
        raise _refused(f"The adaptor cannot be used so: {wrong}.", said, "Turn it the other way.") from wrong
    return adaptor


def _number(said: str) -> float:
    return float(said.replace(",", "."))


def _refused(what: str, where: str, do: str) -> Refusal:
    return Refusal(Problem("LB-D26", what, where, do, "stop"))


def show_wrenches(lines: tuple[WrenchLine, ...], rig: Rig) -> None:
    """What to set for each torque, or why nothing."""
    if not lines:
        return
    say.heading("Set on the wrench")
    common = often(lines)
    for one in lines:
        took = f"{one.wrench}: set {one.setting}" if one.wrench else "; ".join(one.doubts)
        say.say(f"- {one.torque}: {took}  ({', '.join(one.lines)})", "", "  ")
        for doubt in one.doubts if one.wrench else ():
            if doubt not in common:
                say.say(f"! {doubt}", "  ", "    ")
    for doubt in common:
        say.say(f"! {doubt}", "", "  ")
    if words := adaptor_words(rig.adaptor):
        say.say(words)
