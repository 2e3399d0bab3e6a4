"""Which section, step and row of the new edition is which of the old one."""

import re
from collections import Counter, defaultdict
from collections.abc import Callable, Hashable, Iterable, Sequence
from difflib import SequenceMatcher
from typing import TypeVar

from lastbolt.words.machine import Procedure, Step

T = TypeVar("T")
Pair = tuple[T | None, T | None]
"""The old one and the new one; `None`: there is none."""
MOST_COMPARED = 400
"""Unpaired sections beyond this many are paired by number and title only, so that time stays bounded."""
ALIKE = 0.5
"""From this share of common words on, two texts are taken for one that was reworded (assumed)."""
_WORD = re.compile(r"\w+(?:[.,/]\d+)*|[<>≤≥±°%′″Ø+]|(?<![\w)])[-−](?=\d)")


def procedures(old: Sequence[Procedure], new: Sequence[Procedure]) -> list[Pair[Procedure]]:
    """Sections by number and title, else by title alone, else by what they tell to do; in the new order."""
    found: dict[str, Procedure] = {}
    keys: tuple[Callable[[Procedure], Hashable], ...] = (
        lambda p: (p.number, folded(p.title)),
        lambda p: folded(p.title) or None,
        lambda p: "\n".join(folded(step.words) for step in p.steps) or None,
    )
    left = list(old)
    for key in keys:
        wanted = [p for p in new if p.id not in found]
        for before, after in _by_key(left, wanted, key):
            found[after.id] = before
        taken = {p.id for p in found.values()}
        left = [p for p in left if p.id not in taken]
    wanted = [p for p in new if p.id not in found]
    if len(left) <= MOST_COMPARED and len(wanted) <= MOST_COMPARED:
        for before, after in most_alike(left, wanted, _procedure_words):
            found[after.id] = before
    return in_new_order(old, new, found, lambda p: p.id)


def steps(old: Sequence[Step], new: Sequence[Step]) -> list[Pair[Step]]:
    """Steps in their order; reworded ones are paired where enough of the words is the same."""
    pairs: list[Pair[Step]] = []
    matcher = SequenceMatcher(
        None, [folded(s.words) for s in old], [folded(s.words) for s in new], autojunk=False
    )
    for what, a, b, c, d in matcher.get_opcodes():
        if what == "equal":
            pairs += zip(old[a:b], new[c:d], strict=True)
        else:
            pairs += _reworded(old[a:b], new[c:d])
    return pairs


def by_keys(
    old: Sequence[T], new: Sequence[T], keys: Iterable[Callable[[T], Hashable]], name: Callable[[T], str]
) -> list[Pair[T]]:
    """Things paired by the first key that both have once, then by the next; in the new order."""
    found: dict[str, T] = {}
    left = list(old)
    for key in keys:
        wanted = [item for item in new if name(item) not in found]
        for before, after in _by_key(left, wanted, key):
            found[name(after)] = before
        taken = {name(item) for item in found.values()}
        left = [item for item in left if name(item) not in taken]
    return in_new_order(old, new, found, name)


def in_new_order(
    old: Sequence[T], new: Sequence[T], found: dict[str, T], name: Callable[[T], str]
) -> list[Pair[T]]:
    """All pairs in the order of `new`; what is gone stands behind what it stood behind in `old`."""
    partner = {
        name(before): after for after, before in ((a, found[name(a)]) for a in new if name(a) in found)
    }
    behind: dict[str, list[T]] = defaultdict(list)
    last = ""
    for item in old:
        if name(item) in partner:
            last = name(partner[name(item)])
        else:
            behind[last].append(item)
    pairs: list[Pair[T]] = [(gone, None) for gone in behind[""]]
    for item in new:
        pairs.append((found.get(name(item)), item))
        pairs += [(gone, None) for gone in behind.get(name(item), ())]
    return pairs


def folded(text: str) -> str:
    """The words without case, spacing and marks between them; signs that change a value stay.

    >>> folded("Remove the  screws (5), M6 x 45.")
    'remove the screws 5 m6 x 45'
    >>> folded("Play > 0.05 mm, at -5 °C")
    'play > 0.05 mm at - 5 ° c'
    """
    return " ".join(_WORD.findall(text.casefold()))


def likeness(a: str, b: str) -> float:
    """The share of words that two folded texts have in common, from 0 to 1 (Dice's coefficient)."""
    first, second = Counter(a.split()), Counter(b.split())
    total = first.total() + second.total()
    return 2 * (first & second).total() / total if total else 1.0


def most_alike(old: Sequence[T], new: Sequence[T], words: Callable[[T], str]) -> list[tuple[T, T]]:
    """The most alike first, each once, down to ALIKE."""
    texts = [words(item) for item in old]
    scored = sorted(
        (
            (-score, i, j)
            for j, item in enumerate(new)
            for i, text in enumerate(texts)
            if (score := likeness(text, words(item))) >= ALIKE
        ),
    )
    pairs, used_old, used_new = [], set(), set()
    for _, i, j in scored:
        if i not in used_old and j not in used_new:
            used_old.add(i)
            used_new.add(j)
            pairs.append((old[i], new[j]))
    return pairs


def _by_key(old: Iterable[T], new: Iterable[T], key: Callable[[T], Hashable]) -> list[tuple[T, T]]:
    """Pairs of those whose key stands equally often on each side, in their order; a key of None never."""
    ours: dict[Hashable, list[T]] = defaultdict(list)
    theirs: dict[Hashable, list[T]] = defaultdict(list)
    for item in old:
        ours[key(item)].append(item)
    for item in new:
        theirs[key(item)].append(item)
    return [
        pair
        for k, items in theirs.items()
        if k is not None and len(items) == len(ours.get(k, ()))
        for pair in zip(ours[k], items, strict=True)
    ]


def _procedure_words(procedure: Procedure) -> str:
    return folded(" ".join((procedure.title, *(step.words for step in procedure.steps))))


def _reworded(old: Sequence[Step], new: Sequence[Step]) -> list[Pair[Step]]:
    alike = most_alike(old, new, lambda step: folded(step.words))
    return in_new_order(old, new, {after.id: before for before, after in alike}, lambda step: step.id)
