"""Lines of the way back that nobody ticked, and torques that were only ticked: neither ends a job."""

import re
from collections.abc import Iterable, Iterator, Sequence

from lastbolt.refitting.refit_words import refit_words, says
from lastbolt.words.account import Stands, Thing
from lastbolt.words.back import Back, BackLine
from lastbolt.words.job import Job, Tightened
from lastbolt.words.place_runs import listed
from lastbolt.words.plan import Line
from lastbolt.words.standing import standing

TICKED = ("done", "done, not looked at")
TOLD_ALREADY = ("off", "to be renewed", "on")
_WORD = re.compile(r"[a-z]{3,}")


def lines_left(back: Back, things: Iterable[Thing], job: Job | None) -> Iterator[Stands]:
    """What is not ticked, section by section; sections with things that are still off are told by these."""
    off = {name for one in things if one.state in TOLD_ALREADY for name in one.on_by}
    by: dict[str, list[BackLine]] = {}
    for one in back.lines:
        by.setdefault(one.line.procedure, []).append(one)
    for own in by.values():
        if any(one.line.id in off for one in own):
            continue
        if left := [one for one in own if _left(one)]:
            yield Stands(
                "not read",
                f"{_called(own)}: {_steps(left)} not ticked",
                "Do it, or look whether it is done, and tick it.",
            )
    yield from _only_ticked(by.values(), job)


def comes_later(line: Line) -> bool:
    """Whether a line is work of long after: "After the first ten hours, check the screws"."""
    return says(line.words, refit_words()["later"]["begins"])


def _left(one: BackLine) -> bool:
    """Whether a line is still to be ticked: not what holds only in some case, nor what comes long after."""
    line = one.line
    if line.kind == "opening" or line.only_if or comes_later(line):
        return False
    return line.state not in TICKED if line.kind == "step" else line.state != "done"


def _called(own: Sequence[BackLine]) -> str:
    head = next((one.line for one in own if one.line.kind == "opening"), None)
    return f"{head.number} {head.words}".strip() if head else own[0].line.number or own[0].line.words


def _steps(left: Sequence[BackLine]) -> str:
    marks = [one.line.mark for one in left if one.line.mark and one.how == "told"]
    if len(marks) == len(left):
        return f"step{'' if len(marks) == 1 else 's'} {listed(marks)}"
    return "; ".join(dict.fromkeys(f'"{one.line.words}"' for one in left))


def _only_ticked(sections: Iterable[Sequence[BackLine]], job: Job | None) -> Iterator[Stands]:
    """A tick without a look says nothing of the torque; a last stage recorded for that part does."""
    final = [event for _, event in standing(job) if isinstance(event, Tightened) and event.final]
    for own in sections:
        ticked = [one for one in own if one.line.torques and one.line.state == "done, not looked at"]
        names = set(_WORD.findall(" ".join(_texts(own)).casefold()))
        if ticked and not any(_speaks(event, names) for event in final):
            yield Stands(
                "slack",
                f"{_called(own)}: {_steps(ticked)} ticked, and nobody says that the torque was reached",
                "Check it with the wrench, and record it (tightened, final), or tick it as looked at.",
            )


def _texts(own: Sequence[BackLine]) -> Iterator[str]:
    for one in own:
        yield from one.parts
        if one.line.kind == "opening":
            yield one.line.words


def _speaks(event: Tightened, names: set[str]) -> bool:
    said = set(_WORD.findall(event.joint.casefold()))
    return not said or bool(said & names)
