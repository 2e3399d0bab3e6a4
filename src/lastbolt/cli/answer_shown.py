"""The answer about a joint in the terminal: the sentence, what to do next, then what it rests on."""

import sys
from collections.abc import Iterable

from lastbolt.app.answer_words import counts_to_print, in_short, not_read_words, taken_words
from lastbolt.app.rests_on import rests_on_sentence
from lastbolt.cli import keyboard, say
from lastbolt.words.answer import Answer

MOST_SUSPICIONS = 6
MAKER_FIRST = "The maker's manual, local codes and licensed practice come first."
TYPE_IT = "Write what you find into a text file and add --typed FILE; docs/typed.md has the lines."


def show(answer: Answer) -> None:
    """Everything the answer says; nothing that may still hold is left out."""
    keyboard.about(answer)
    say.big(answer.sentence)
    if answer.why:
        say.say(answer.why)
        print()
    keyboard.next_steps(answer)
    if answer.next_steps and not any(step.to_type for step in answer.next_steps):
        say.say(TYPE_IT)
    if words := rests_on_sentence(answer):
        say.say(words)
    _suspicions(answer)
    _counts(answer)
    if answer.holders:
        say.heading("Other holders")
        for holder in answer.holders:
            mark = "settled" if holder.settled else "OPEN"
            say.say(f"{mark:<8} {holder.name}: {holder.words}", "  ", "           ")
    _lines("Why nothing can be in", answer.certificate)
    _lines("Rows of the lists, and what was taken of them", taken_words(answer.taken_as))
    _lines("What this answer does not cover", (*not_read_words(answer), *answer.not_covered))
    print()
    say.say(keyboard.CAREFULLY if answer.clear_to_part else MAKER_FIRST)
    if answer.problems:
        print(file=sys.stderr)
        say.problems(answer.problems)


def _suspicions(answer: Answer) -> None:
    """The first ones in full, all others in short: places, and what would have to be wrong."""
    if not answer.suspicions:
        return
    say.heading("What may still hold, or does not fit")
    for number, item in enumerate(answer.suspicions[:MOST_SUSPICIONS], 1):
        say.say(f"{number}. {item.words}", "  ", "     ")
        if item.ways:
            say.say(item.ways, "     ")
    rest = answer.suspicions[MOST_SUSPICIONS:]
    if rest:
        say.say(f"And {len(rest)} more:", "  ")
        for words in in_short(rest):
            say.say(f"- {words}", "     ", "       ")


def _counts(answer: Answer) -> None:
    if not answer.counts.rows:
        return
    say.heading("Counts, side by side")
    counts = counts_to_print(answer)
    say.table(counts.rows, counts.heads)
    for note in counts.notes:
        say.say(note, "  ")


def _lines(title: str, lines: Iterable[str]) -> None:
    lines = tuple(lines)
    if lines:
        say.heading(title)
        for line in lines:
            say.say(f"- {line}", "  ", "    ")
