"""What people put right, as plan, tally and report say it."""

from collections import Counter
from collections.abc import Container, Iterable

from lastbolt.words.answer import TakenAs
from lastbolt.words.machine import Machine, PutRight


def author(one: PutRight) -> str:
    """Who and when: "Ann, 2026-11-30"."""
    day = one.at.partition("T")[0]
    return f"{one.by}, {day}" if day else one.by


def put_right_words(one: PutRight) -> str:
    """The correction with its author and, where there is one, the reason."""
    reason = f" ({one.reason})" if one.reason else ""
    return f"{author(one)}: {one.words.rstrip('.')}{reason}"


def put_right_lines(said: Iterable[PutRight]) -> tuple[str, ...]:
    """Each of them once; what was only looked at and found right is counted, by whom."""
    every = tuple(said)
    looked = Counter(one.by for one in every if one.confirmed and not one.reason)
    counted = tuple(f"{by}: {count} looked at and found right as read." for by, count in looked.items())
    rest = (one for one in every if not one.confirmed or one.reason)
    return (*dict.fromkeys(_ended(put_right_words(one)) for one in rest), *counted)


def _ended(sentence: str) -> str:
    return sentence if sentence.endswith('."') else f"{sentence}."


def put_right_taken(machine: Machine, closure: Container[str]) -> tuple[TakenAs, ...]:
    """Of an answer: what a person put right in lists and tables, and in the procedures it rests on."""
    near = [one for one in machine.put_right if one.under in closure or not one.under]
    said = [one for one in near if not one.confirmed or one.reason]
    looked = Counter(one.by for one in near if one.confirmed and not one.reason)
    return (
        *(
            TakenAs(f"put right/{one.correction}", f"put right by {put_right_words(one)}", one.citations)
            for one in said
        ),
        *(
            TakenAs(f"looked at/{by}", f"{count} looked at and found right as read by {by}")
            for by, count in looked.items()
        ),
    )
