"""Differences between the words of sections that hold no procedure: safety, general matters, notes on use."""

from collections import Counter
from collections.abc import Iterator, Sequence

from lastbolt.comparing.pairing import MOST_COMPARED, folded, in_new_order, most_alike
from lastbolt.comparing.resting import Resting
from lastbolt.comparing.spoken import words
from lastbolt.comparing.tables import called_steps
from lastbolt.comparing.targets import section_pairs
from lastbolt.words.changes import Change
from lastbolt.words.machine import Machine
from lastbolt.words.sentences import split

Sentence = tuple[int, str]
"""Its place in the text, and its words."""


def texts(old: Machine, new: Machine, resting: Resting) -> Iterator[Change]:
    """Each sentence that is new, gone or changed, with the steps that refer to its section."""
    for before, after in section_pairs(old, new):
        one = after or before
        assert one is not None
        called = f"{one.number} {one.title}".strip()
        steps = resting.on_section(before) if before and before.text else ()
        for was, now in changed_sentences(before.text if before else "", after.text if after else ""):
            yield Change(
                "new" if not was else "gone" if not now else "changed", "text", called, was, now, called,
                before.id if before else "", after.id if after else "",
                before.citations if before else (), after.citations if after else (),
                steps=tuple(step.id for _, step in steps), steps_called=called_steps(steps),
            )  # fmt: skip


def changed_sentences(old: str, new: str) -> list[tuple[str, str]]:
    """What stood and what stands there, sentence by sentence; a sentence that only moved is not told.

    >>> changed_sentences("Wear your gloves. Stop it first.", "Stop it first. Wear thick gloves. Ask.")
    [('Wear your gloves.', 'Wear thick gloves.'), ('', 'Ask.')]
    """
    if folded(old) == folded(new):
        return []
    was, now = _sentences(old), _sentences(new)
    left, right = _without(was, now), _without(now, was)
    found: dict[str, Sentence] = {}
    if len(left) <= MOST_COMPARED and len(right) <= MOST_COMPARED:
        alike = most_alike(left, right, lambda one: folded(one[1]))
        found = {_name(after): before for before, after in alike}
    pairs = in_new_order(left, right, found, _name)
    return [(before[1] if before else "", after[1] if after else "") for before, after in pairs]


def _sentences(text: str) -> list[Sentence]:
    return list(enumerate(split(text, words()["sentences"]["abbreviations"])))


def _without(some: Sequence[Sentence], others: Sequence[Sentence]) -> list[Sentence]:
    """Those that the others do not say, word for word."""
    left = Counter(folded(said) for _, said in others)
    kept = []
    for place, said in some:
        key = folded(said)
        if left[key]:
            left[key] -= 1
        else:
            kept.append((place, said))
    return kept


def _name(sentence: Sentence) -> str:
    return str(sentence[0])
