"""`lastbolt refit`: the way back in the terminal, and what stands between the job and its end."""

from argparse import Namespace
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace

from lastbolt.app.plan_shown import limit_beside
from lastbolt.app.refit_shown import HOW, box_of, new_parts_shown, stands_shown, torques_beside
from lastbolt.app.wrench_shown import adaptor_words, wrench_lines
from lastbolt.cli import say
from lastbolt.cli.map_text import show_map
from lastbolt.cli.papers import papers_from, with_readings
from lastbolt.cli.plan import did_you_mean
from lastbolt.cli.plan_text import at, line_words
from lastbolt.cli.typed_back import recorded
from lastbolt.cli.wrench_given import rig_of, show_wrenches
from lastbolt.edge import documents
from lastbolt.edge.safe_files import write_file
from lastbolt.refitting.no_stop import not_to_begin
from lastbolt.words.account import Stands
from lastbolt.words.back import BackLine
from lastbolt.words.back_watch import Cause, NoStop

if TYPE_CHECKING:
    from lastbolt.app.refit_joint import WayBackMade

KINDS = {
    "won't close": "The halves do not come together",
    "left in": "Still laid in",
    "missing": "Off, and not back",
    "slack": "In, and not tight",
    "left over": "Left over",
    "not read": "Not known",
}
"""In the order in which they matter."""


def run(args: Namespace) -> int:
    """Show the way back: 0 finished, 1 something stands or the way back is not complete, 2 no such goal."""
    from lastbolt.app.make_plan import make_plan
    from lastbolt.app.refit_joint import refit_joint
    from lastbolt.drawing.order_map import order_svg

    papers, told = recorded(with_readings(papers_from(args)), args)
    plan = make_plan(papers.machine, args.goal, papers.engine, papers.job)
    if not plan.procedures:
        did_you_mean(plan, papers.machine.procedures)
        return 2
    made = refit_joint(papers.machine, plan, papers.walks, papers.engine, papers.job)
    rig, strange = rig_of(args)
    if rig is not None:
        lines = wrench_lines(made.back.lines, rig)
        made = replace(made, wrenches=lines, adaptor=adaptor_words(rig.adaptor))
    if args.out:
        documents.save(Path(args.out), made.back)
    if args.map and made.tightening:
        write_file(Path(args.map), order_svg(made.tightening[0]).encode())
    if args.sheet:
        write_file(Path(args.sheet), sheet_of(made))
    if args.json:
        say.as_json(made)
    else:
        show(made, begun=papers.job is not None)
        for one in made.tightening:
            show_map(one)
        if rig is not None:
            show_wrenches(made.wrenches, rig)
        _show_apart(made.apart)
        _show_blocks(made.no_stop, args.minutes)
        say.problems((*told, *strange))
    return 0 if made.account.finished and not told else 1


def sheet_of(made: "WayBackMade") -> bytes:
    """The way back as PDF."""
    from lastbolt.app.refit_shown import refit_sheet
    from lastbolt.edge.refit_sheet import refit_pdf

    foot = f"lastbolt · {made.back.machine} · the maker's current manual comes first"
    sheet = refit_sheet(made.back, made.account, made.tightening, made.no_stop, made.sentence, made.renewed)
    return refit_pdf(replace(sheet, wrenches=made.wrenches, adaptor=made.adaptor), made.tightening, foot)


def show(made: "WayBackMade", begun: bool) -> None:
    """The whole way back, the answer first."""
    back = made.back
    say.big(made.sentence)
    if begun:
        _stands(made.account.stands)
    if back.open:
        say.heading("The sources leave open")
    for item in back.open:
        say.say(f"- {item.words} {item.do}{at(item.citations)}", "", "  ")
    if back.new_parts:
        say.heading("New parts")
        for part in new_parts_shown(back, made.renewed):
            box = "[x]" if part.box else "[ ]"
            place = f"  {part.aside}" if part.box else f"  ({part.aside})" if part.aside else ""
            say.say(f"{box} {part.words}{place}", "", "    ")
    say.heading("The way back")
    under, heads = "", {one.line.procedure: one.line for one in back.lines if one.line.kind == "opening"}
    number = 0
    for one in back.lines:
        if one.line.kind == "opening" or one.line.procedure != under:
            print()
        head = heads.get(one.line.procedure)
        if head and one.how == "told" and one.line.kind != "opening" and one.line.procedure != under:
            say.say(f"      {head.number}  {head.words} (continued){at(head.citations)}", "", "      ")
        under = one.line.procedure
        number += one.line.kind != "opening"
        _line(number, one)
    say.line("\nHalves close by hand. A gap means shaft, fork, dowel, dirt or a wrong length: stop and look.")
    say.say("The maker's current manual, local codes and licensed practice come first.")


def _show_apart(apart: Mapping[str, Sequence[Cause]]) -> None:
    """What may keep halves apart; where the record speaks for it, that stands with it."""
    for joint, found in apart.items():
        say.heading(f"Stop. Why {joint} may not close")
        for number, cause in enumerate(found, 1):
            hint = f" ({'; '.join(cause.because)})" if cause.because else ""
            say.say(f"{number}. {cause.what}{hint}. {cause.look}", "", "   ")
        say.say(f"[{found[0].source}]")


def _show_blocks(blocks: Sequence[NoStop], minutes_left: float | None) -> None:
    """What is done in one go; with the minutes left, what is not begun today."""
    shown = blocks if minutes_left is None else not_to_begin(blocks, minutes_left)
    if not shown:
        return
    left = "In one go" if minutes_left is None else f"Do not begin with {minutes_left:g} minutes left"
    say.heading(left)
    for one in shown:
        long = f"{one.minutes:g} minutes" if one.minutes is not None else "no time known"
        say.say(f"- {one.words} {one.why}: {long} [{one.source}]{at(one.citations)}", "", "  ")


def _stands(stands: Sequence[Stands]) -> None:
    """What stands, sort by sort, each with its box; what is to be done about them below."""
    for kind, title in KINDS.items():
        own = [one for one in stands if one.kind == kind]
        if own:
            say.heading(title)
        for do, things in stands_shown(own):
            for words in things:
                say.say(f"[ ] {words}", "", "    ")
            say.say(do, "    ", "    ")


def _line(number: int, one: BackLine) -> None:
    line = one.line
    if line.kind == "opening":
        say.say(f"{line.number}  {line.words}{at(line.citations)}", "      ", "      ")
        if line.question:
            say.say(line.question, "      ")
    for caution in line.cautions:
        say.say(f"{caution.signal.upper()}  {caution.words}", "      ! ", "        ")
    if line.kind == "opening":
        return
    box = f"[{box_of(one) or ' '}]"
    mark = f"{line.mark}  " if line.mark and one.how == "told" else ""
    how = f" ({HOW[one.how]})" if HOW[one.how] else ""
    place = at(line.citations) if one.how != "told" else ""
    only = f"{limit}: " if (limit := limit_beside(line)) else ""
    say.say(f"{number:4}  {box} {mark}{only}{line_words(line)}{how}{place}", "", " " * 10)
    for said in one.exceptions:
        say.say(f"Not as it came off: {said}", " " * 10, " " * 12)
    for said, citations in torques_beside(line):
        say.say(f"{said}{at(citations)}", " " * 10, " " * 12)
    if line.kind in ("confirm", "question") and line.question and box_of(one) == "?":
        say.say(line.question, " " * 10)
