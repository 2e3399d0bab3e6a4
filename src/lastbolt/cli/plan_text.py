"""The plan in the terminal: the answer, what to have ready, the checklist, the way back."""

from collections.abc import Iterable

from lastbolt.app.before_shown import before_shown
from lastbolt.app.export_words import STOP
from lastbolt.app.fastening_shown import fastening_at, fastening_words
from lastbolt.app.plan_shown import limit_beside, reading_rule
from lastbolt.app.put_right_shown import put_right_lines
from lastbolt.app.way_back_shown import NO_WAY_BACK
from lastbolt.cli import say
from lastbolt.planning.force import begun_past, stops
from lastbolt.words.citation import Citation
from lastbolt.words.plan import Line, Plan, Return
from lastbolt.words.where import where

Entry = tuple[str, tuple[Citation, ...]]
MARKS = {
    "[ ]": "to do",
    "[/]": "begun",
    "[x]": "done",
    "[?]": "to confirm, to answer or to see to",
}
NOT_CLEAR_YET = "Unless lastbolt tally says clear to part: take the load off and leave it off."
NOTE_IT = (
    "Note how each sat before it comes off (photo, mark), and agree on its way back with the instructor."
)
ANSWER_AT = "Where these are answered:  lastbolt correct MODEL"
ANSWER_IN = " (docs/correcting.md); what is about this machine or job, in the job file (docs/planning.md)."
PICTURE = "Picture there: what is off in it that is still on here?"


def show(plan: Plan) -> None:
    """The whole plan, answer first."""
    steps = sum(line.kind == "step" for line in plan.lines)
    state = "complete" if plan.complete else f"not complete: {say.count(len(plan.open), 'point')} open"
    say.big(f"{plan.goal}: {say.count(steps, 'step')}, {state}.")
    for line in begun_past(plan):
        number = plan.lines.index(line) + 1
        how = "begun" if line.state == "started" else "ticked"
        say.say(f"! Line {number} is {how}, past the stop. {NOT_CLEAR_YET}", "", "  ")
    for item in plan.open:
        say.say(f"- {item.words} {item.do}{at(item.citations)}", "", "  ")
    if plan.open:
        say.say(f'{ANSWER_AT} --goal "{plan.goal}"{ANSWER_IN}', "", "  ")
    if plan.put_right:
        say.heading("Put right by people, against what was read")
        for said in put_right_lines(plan.put_right):
            say.say(f"- {said}", "", "  ")
    if plan.general:
        say.heading("For all work")
        for general in plan.general:
            say.say(f"{general.signal.upper()}  {general.words}{at(general.citations)}", "! ", "  ")
    _ready(plan)
    before = before_shown(item for item in plan.before_off if item.kind != "single use")
    if before:
        say.heading("Before you take it off")
        _by_place((_with(one.at, one.sentence), one.citations) for one in before)
    _checklist(plan)
    _way_back(plan)
    problems = [problem for problem in plan.problems if problem.code != NO_WAY_BACK]
    if problems:
        say.heading("Where the sources disagree, or cannot be followed")
        for problem in problems:
            say.say(f"{problem.code}  {problem.what} ({problem.where}) {problem.do}", "", "        ")
    say.line(f'\nWhy is a line here?  lastbolt plan "{plan.goal}" ... --why NUMBER')


def _with(section: str, said: str) -> str:
    return f"{section}  {said}" if section else said


def at(citations: tuple[Citation, ...]) -> str:
    """Where it stands, in brackets."""
    return f"  ({where(citations[0])})" if citations else ""


def _by_place(entries: Iterable[Entry]) -> None:
    """Entries under the place that they stand at, which is said once as long as it does not change."""
    last = ""
    for said, citations in entries:
        here = where(citations[0]) if citations else "no place in the sources"
        if here != last:
            say.say(f"{here}:", "", "  ")
            last = here
        say.say(f"- {said}", "  ", "    ")


def _ready(plan: Plan) -> None:
    """Tools and supplies by the section that names them first; then the new parts."""
    if not plan.ready and not plan.way_back.new_parts:
        return
    say.heading("Have ready")
    for kind, title in (("tool", "Tools"), ("supply", "Supplies")):
        named: dict[tuple[str, tuple[Citation, ...]], list[str]] = {}
        for item in plan.ready:
            if item.kind == kind:
                named.setdefault((item.number, item.citations), []).append(item.words)
        if named:
            say.say(f"{title}:")
        for (number, citations), some in named.items():
            said = ", ".join(some)
            say.say(
                f"- {number}: {said}{at(citations)}" if number else f"- {said}{at(citations)}", "  ", "    "
            )
    if plan.way_back.new_parts:
        say.say("New parts:")
        for part in plan.way_back.new_parts:
            name = " ".join((part.part, *part.part_numbers))
            bare = not part.part_numbers and " " not in part.part and part.words
            say.say(f"- {name}{f': {part.words}' if bare else ''}{at(part.citations)}", "  ", "    ")


def _checklist(plan: Plan) -> None:
    say.heading("Checklist")
    _key(plan)
    force = stops(plan)
    heads = {line.procedure: line for line in plan.lines if line.kind == "opening"}
    under, begun = "", set()
    for number, line in enumerate(plan.lines, 1):
        whole = line.kind == "opening" or line.procedure not in heads
        if whole:
            print()
        elif line.procedure != under:
            print()
            head = heads[line.procedure]
            when = "continued" if line.procedure in begun else "before it begins"
            say.say(f"{'':6}{_named(head)} ({when}){at(head.citations)}", "", " " * 6)
        under = line.procedure
        begun |= {line.procedure} if whole else set()
        if line.id in force and line.state in ("to do", "started"):
            say.say(f"{'':4}  STOP  {STOP}", "", " " * 12)
        _line(number, line, heads.get(line.procedure))


def _key(plan: Plan) -> None:
    """What the marks mean, of those met; and what to ask where there is no picture."""
    met = {_box(line) for line in plan.lines if line.kind != "opening"}
    key = "   ".join(f"{mark} {said}" for mark, said in MARKS.items() if mark in met)
    say.say(f"{key}   {reading_rule(plan)}".strip())


def _only(line: Line) -> str:
    """Its limit, unless its words say it."""
    limit = limit_beside(line)
    return f"{limit}: " if limit else ""


def _named(line: Line) -> str:
    only = _only(line)
    return "  ".join(part for part in (line.number, f"{only}{line.words}") if part)


def _box(line: Line) -> str:
    if line.kind in ("confirm", "question", "condition"):
        return "[?]"
    return {"to do": "[ ]", "started": "[/]", "taken for done": "[?]"}.get(line.state, "[x]")


def _line(number: int, line: Line, head: Line | None) -> None:
    if line.kind == "opening":
        say.say(f"{number:4}  {_named(line)}{at(line.citations)}", "", "      ")
        if line.figures and line.question:
            say.say(PICTURE, "      ")
    for caution in line.cautions:
        say.say(f"{caution.signal.upper()}  {caution.words}", "      ! ", "        ")
    if line.kind == "opening":
        return
    only = _only(line)
    mark = line.mark if line.kind == "step" else line.number
    mark = f"{mark}  " if mark else ""
    place = at(line.citations)
    place = "" if head is not None and head is not line and place == at(head.citations) else place
    say.say(f"{number:4}  {_box(line)} {mark}{only}{line_words(line)}{place}", "", " " * 10)
    if line.question and line.question != line.words:
        say.say(line.question, " " * 10)
    if line.off:
        say.say(f"off: {', '.join(line.off)}", " " * 10, " " * 15)
    if line.kind == "confirm" and line.by:
        say.say(f"ticked by {', '.join(line.by)}", " " * 10)


def line_words(line: Line) -> str:
    """What a line says, with its locks and its left-hand thread behind it."""
    tags = [
        tag
        for tag, there in (("LEFT-HAND THREAD", line.left_hand), *((x, True) for x in line.locks))
        if there
    ]
    said = f"{line.words} {line.beside}".rstrip()
    return said + (f" [{'; '.join(tags)}]" if tags else "")


def _way_back(plan: Plan) -> None:
    own = [item for item in plan.way_back.fastenings if item.of in plan.procedures]
    rest = [item for item in plan.way_back.fastenings if item.of not in plan.procedures]
    if own:
        say.heading("How the fasteners of this joint go back")
        _by_place((_with(fastening_at(item), fastening_words(item)), item.citations) for item in own)
    if rest:
        say.heading("Torques for what else comes off")
        _by_place((_with(fastening_at(item), fastening_words(item)), item.citations) for item in rest)
    none = [item for item in plan.way_back.returns if item.how == "none"]
    if none:
        say.heading("Comes off, and no source says how it goes back")
        say.say(NOTE_IT)
        lines = {line.id: line for line in plan.lines}
        _by_place(
            (f"{item.part}{_taken_off(item, lines.get(item.off_by))}", item.off_citations) for item in none
        )


def _taken_off(item: Return, line: Line | None) -> str:
    if line is None:
        return ""
    if line.kind == "step" and line.mark:
        return f" ({f'{line.number} ' if line.number else ''}step {line.mark})"
    return f" ({line.number})" if line.number else ""
