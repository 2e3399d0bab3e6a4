"""Typed lines that say what the file is about: "goal separate the gearcase", "machine H40".

A file of typed lines outlives the command that it was typed for. What it is about stands in it, so that the
next command needs not be told, and that the lines of one joint are not read as those of another.
"""

import re
from typing import NamedTuple

from lastbolt.app.typed_lines import lines_of, struck
from lastbolt.app.written_words import speaks_of_one_in
from lastbolt.words.names import one_machine
from lastbolt.words.problem import Problem

_TRADE = re.compile(r"^machine\s+(?:screw|bolt|nut)s?\b", re.I)
_ABOUT = re.compile(r"^(goal|machine)\s*(?::\s*|\s)(\S.*)$", re.I)


class About(NamedTuple):
    """What typed lines say that they are about, each with the number of its last line; "" if none says it."""

    goal: str = ""
    goal_line: int = 0
    machine: str = ""
    machine_line: int = 0
    lines: frozenset[int] = frozenset()


def about_of(text: str) -> About:
    """The last word of each; a struck line says nothing. Earlier lines that say another are none of these, so
    that they are told as not understood."""
    lines = lines_of(text)
    gone, _ = struck(lines)
    said = {n: found for n, line in enumerate(lines, 1) if (found := _ABOUT.match(line)) and _is_about(line)}
    last = {found[1].casefold(): (found[2].strip(" ."), n) for n, found in said.items() if n not in gone}
    same = (
        n for n, found in said.items() if n in gone or _key(last[found[1].casefold()][0]) == _key(found[2])
    )
    return About(*last.get("goal", ("", 0)), *last.get("machine", ("", 0)), frozenset(same))


def _is_about(line: str) -> bool:
    """Whether it may name a goal or machine: "machine screw 9 still in" speaks of a fastener."""
    return not _TRADE.match(line) and not speaks_of_one_in(line)


def about_lines(machine: str, goal: str) -> tuple[str, ...]:
    """The lines that say it, for a file that begins."""
    said = (("machine", machine), ("goal", goal))
    return tuple(f"{kind} {' '.join(words.split())}" for kind, words in said if words.strip())


def other_machine_typed(about: About, machine: str) -> Problem | None:
    """What to say where the lines are of another machine than the model's."""
    if one_machine(about.machine, machine):
        return None
    return Problem(
        "LB-D25",
        f'The typed lines are of the machine "{about.machine}" and the model is of "{machine}".',
        f"typed lines, line {about.machine_line}",
        f"Give the lines typed for this machine; or strike line {about.machine_line}, if it was a slip.",
        "stop",
    )


def other_goal_typed(about: About, goal: str) -> Problem:
    """What to say where the lines are of another goal than the command's."""
    return Problem(
        "LB-D25",
        f'The typed lines are of the goal "{about.goal}", and now the goal is "{goal}": another joint.',
        f"typed lines, line {about.goal_line}",
        "Leave --goal away to go on with theirs; the lines of another joint go into a file of their own.",
        "stop",
    )


def same_goal(about: About, goal: str) -> bool:
    """Whether the lines are of this goal by its words; True where they or the command name none."""
    return not about.goal or not goal or _key(about.goal) == _key(goal)


def _key(words: str) -> str:
    return "".join(letter for letter in words.casefold() if letter.isalnum())
