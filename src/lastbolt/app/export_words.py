"""What a plan line says in words when it leaves lastbolt: counts, torques, states, and where they stand."""

import re
from collections.abc import Iterable, Mapping

from lastbolt.app.plan_shown import torque_words
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, Mention
from lastbolt.words.plan import Line
from lastbolt.words.quantity import Quantity
from lastbolt.words.where import where

STOP = "Before this step lastbolt tally must say that the joint is clear to part."
"""What stands before the step that first puts force on the joint."""
_NUMBER = re.compile(r"\d+")


def places_of(citations: Iterable[Citation], titles: Mapping[str, str]) -> tuple[str, ...]:
    """Where the citations stand, each place once, sources by their titles."""
    return tuple(dict.fromkeys(where(one, one.title or titles.get(one.source, "")) for one in citations))


def words_of(line: Line) -> str:
    """The line's own words with what limits them, and what else stands in its row."""
    said = f"{line.words} {line.beside}".strip()
    if line.kind == "condition":
        said = f"Required: {said}"
    elif line.kind == "question":
        said = f"Answer first: {line.question or said}"
    return limited(line.only_if, said)


def limited(only_if: str, said: str) -> str:
    """The words with what limits them in front, where they do not say it themselves."""
    return said if not only_if or _told(only_if, _flat(said)) else f"Only if {only_if}: {said}"


def facts_of(line: Line) -> tuple[str, ...]:
    """What belongs to doing the step and its words do not say: counts, torques, locks, tools, doubts.

    What the words do say is not said twice: who reads the document again would count it twice.
    """
    said = _flat(words_of(line))
    told = [
        *(_count(mention) for mention in line.mentions if not _counted(mention.quantity, said)),
        *(
            f"Torque: {torque_words(value)}."
            for value in line.torques
            if not _told(torque_words(value), said)
        ),
        "" if not line.left_hand or "left-hand" in said or "left hand" in said else "Left-hand thread.",
        *(f"Locked: {lock}." for lock in line.locks if not _told(lock, said)),
        *(f"Must be new when it goes back: {part}." for part in line.renew if not _told(part, said)),
    ]
    if line.kind == "step":
        told += [f"Tool: {tool}." for tool in line.tools if not _told(tool, said)]
        told.append(_state(line))
    told.append(f"Read with doubt: {_ended(line.doubt)} Look at the page." if line.doubt else "")
    return tuple(dict.fromkeys(words for words in told if words))


def asides_of(line: Line, machine: Machine) -> tuple[str, ...]:
    """What to look at, and what there is to choose from."""
    told = [f"Off: {', '.join(line.off)}." if line.off else ""]
    if line.kind == "confirm":
        told.append(f"Ticked by {', '.join(line.by)}." if line.by else "Nobody ticked it.")
    if line.kind == "question":
        told.append(f"The source says: “{line.words}”" if line.words not in line.question else "")
        names = titles_of(line.choices, machine)
        told.append(f"To choose from: {'; '.join(names)}." if names else "")
    else:
        told.append(line.question)
    return tuple(words for words in told if words)


def titles_of(ids: Iterable[str], machine: Machine) -> tuple[str, ...]:
    """Procedures and sections by number and title, steps by their section's title; ids where nobody knows."""
    known = {one.id: f"{one.number} {one.title}".strip() for one in machine.sections}
    known |= {row.id: f"By its torque in the table: {row.what}" for row in machine.torques}
    for procedure in machine.procedures:
        title = f"{procedure.number} {procedure.title}".strip()
        known[procedure.id] = title
        known |= {one.id: f"{title}, {one.mark}" for one in procedure.steps}
    return tuple(dict.fromkeys(known.get(one, one) for one in ids))


def count_words(quantity: Quantity) -> str:
    """How many, where the source gives a number: "4", "3 to 4", "at least 3"; empty where it gives none."""
    low, high = quantity.low, quantity.high
    if low is None:
        return ""
    if quantity.kind == "at least":
        return f"at least {low}"
    return f"{low} to {high}" if high not in (None, low) else str(low)


def _count(mention: Mention) -> str:
    return f"{count_words(mention.quantity)} x {mention.name}."


def _counted(quantity: Quantity, said: str) -> bool:
    """Whether the words give this count, or there is none to give."""
    if not count_words(quantity) or (quantity.words and _told(quantity.words, said)):
        return True
    return {str(quantity.low), str(quantity.high or quantity.low)} <= set(_NUMBER.findall(said))


def _state(line: Line) -> str:
    if line.state == "to do":
        return ""
    by = f", ticked by {', '.join(line.by)}" if line.by else ""
    return f"On the bench: {line.state}{by}."


def _told(words: str, said: str) -> bool:
    return _flat(words) in said


def _flat(words: str) -> str:
    return " ".join(words.casefold().split())


def _ended(words: str) -> str:
    return words if words.rstrip().endswith((".", "!", "?")) else f"{words.rstrip()}."
