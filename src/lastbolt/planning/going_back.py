"""Where a source puts a part on: by rows, by name, and at last by the words of steps and sections."""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from functools import lru_cache

from msgspec import Struct

from lastbolt.planning.names import any_of, same_name, same_part, stems, words
from lastbolt.planning.not_so import not_so
from lastbolt.planning.pairs import OFF, ON, Pair, cased, parts_of
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, Mention, Procedure, Step

_TOKEN = re.compile(r"[a-z][a-z']*|[,;:.(]|\d+")


class On(Struct, frozen=True):
    """One thing that a source puts on. `whole`: the procedure as a whole does, not one step."""

    name: str
    rows: tuple[str, ...]
    by: str
    procedure: str
    citations: tuple[Citation, ...]
    whole: bool


class Installations:
    """Everything that the sources put on."""

    def __init__(self, machine: Machine) -> None:
        self.machine = machine
        self.by_head: dict[str, list[On]] = defaultdict(list)
        self.by_row: dict[str, list[On]] = defaultdict(list)
        self.removed: dict[str, dict[frozenset[str], set[str]]] = defaultdict(dict)
        """By head noun: the names of what comes off, with the procedures that say so."""
        self._found: dict[tuple[str, tuple[str, ...], str], list[On]] = {}
        self._said: list[tuple[frozenset[str], On]] | None = None
        self._by_word: dict[str, list[int]] = defaultdict(list)
        for procedure in machine.procedures:
            for on in puts_on(procedure):
                if key := stems(on.name):
                    self.by_head[key[-1]].append(on)
                for row in on.rows:
                    self.by_row[row].append(on)
            for step in procedure.steps:
                for mention in step.mentions:
                    if mention.deed in OFF and (key := loose(mention.name)):
                        self.removed[key[-1]].setdefault(frozenset(key), set()).add(procedure.id)

    def in_pairs(self, mention: Mention, pairs: Iterable[Pair], removal: str) -> list[On]:
        """Where the procedures that reverse or mirror the removal put the part on, in any words; the words
        of the removal itself say nothing."""
        found: list[On] = []
        for pair in pairs:
            own = pair.procedure.id == removal
            ons = list(puts_on(pair.procedure))
            near = [on for on in ons if set(on.rows) & set(mention.rows)]
            near = near or [on for on in ons if same_name(on.name, mention.name)]
            near = near or [on for on in ons if same_part(on.name, mention.name)]
            near = near or [on for on in ons if on.whole and cased(on.name, mention.name)]
            found += near or ([] if own else _in_steps(mention, pair.procedure))
        return found

    def anywhere(self, mention: Mention, removal: str) -> list[On]:
        """Where any procedure puts the part on that `removal` takes off: by its rows, its very name, a name
        that fits, or in words."""
        asked = (mention.name, mention.rows, removal)
        if asked not in self._found:
            self._found[asked] = self._find(mention, removal)
        return self._found[asked]

    def _find(self, mention: Mention, removal: str) -> list[On]:
        key = loose(mention.name)
        if not key:
            return []
        by_row = [on for row in mention.rows for on in self.by_row.get(row, ())]
        among = self.by_head.get(key[-1], ())
        return (
            by_row
            or [on for on in among if same_name(on.name, mention.name)]
            or [on for on in among if self._fit(frozenset(loose(on.name)), frozenset(key), key[-1], removal)]
            or self._in_words(key)
        )

    def _fit(self, one: frozenset[str], key: frozenset[str], head: str, removal: str) -> bool:
        """Whether a name elsewhere can be this part: it says as much, or no other removed part fits it, nor
        does another section take off a part of just that name."""
        if key <= one:
            return True
        off = self.removed[head]
        return (
            one <= key
            and all(other <= key or key <= other for other in off)
            and not (one in off and removal not in off[one])
        )

    def _in_words(self, key: tuple[str, ...]) -> list[On]:
        if self._said is None:
            self._said = list(_sayings(self.machine))
            for place, (said, _) in enumerate(self._said):
                for word in said:
                    self._by_word[word].append(place)
        rarest = min(key, key=lambda word: len(self._by_word.get(word, ())))
        places = self._by_word.get(rarest, ())
        return [self._said[place][1] for place in places if set(key) <= self._said[place][0]]


def puts_on(procedure: Procedure) -> Iterator[On]:
    """What a procedure puts on: the part of its title, then what its steps name."""
    if procedure.deed in ON:
        for part in parts_of(procedure):
            yield On(part, (), procedure.id, procedure.id, procedure.citations, True)
    for step in procedure.steps:
        for mention in step.mentions:
            if mention.deed in ON or (mention.deed == "other" and _puts(step, mention)):
                yield On(mention.name, mention.rows, step.id, procedure.id, step.citations, False)


def _puts(step: Step, mention: Mention) -> bool:
    """Whether a step that puts something on may mean this too, and does not say never to."""
    return bool(set(step.deeds) & set(ON)) and not not_so(
        step.words, mention.name, words()["way_back"]["forbids"]
    )


@lru_cache(maxsize=20_000)
def loose(name: str) -> tuple[str, ...]:
    """The stems of a name without the words that only tell two pieces of one thing apart."""
    little = words()["way_back"]["loosely"]
    key = stems(name)
    return tuple(word for word in key if word not in little) or key


def _in_steps(mention: Mention, procedure: Procedure) -> list[On]:
    """The step whose words name the part: the first that puts something in place, else the first at all."""
    naming = [step for step in procedure.steps if speaks_of(step.words, mention.name)]
    putting = [step for step in naming if any_of(step.words, words()["way_back"]["put_in"])]
    return [_by(step, procedure) for step in (putting or naming)[:1]]


def speaks_of(text: str, name: str) -> bool:
    """Whether a text names a part: in all its words, or by its last word with no other name before it.

    >>> speaks_of("Put the key into the shaft.", "woodruff key")
    True
    >>> speaks_of("Lay in a new sealing ring.", "spacer ring")
    False
    """
    key = loose(name)
    tokens = _TOKEN.findall(text.lower().replace("-", " "))
    if not key or not set(key[-1:]) <= {one for token in tokens for one in stems(token)}:
        return False
    if len(key) > 1 and set(key) <= {one for token in tokens for one in stems(token)}:
        return True
    plain = words()["way_back"]["before_a_name"]
    puts = [*words()["way_back"]["put_in"], *words()["way_back"]["puts_on"]]
    befores = [
        tokens[place - 1] if place else "," for place, one in enumerate(tokens) if stems(one) == key[-1:]
    ]
    return any(before in plain or before in puts or before in ",;:.(" for before in befores)


def _by(step: Step, procedure: Procedure) -> On:
    return On("", (), step.id, procedure.id, step.citations, False)


def _sayings(machine: Machine) -> Iterator[tuple[frozenset[str], On]]:
    """The words of every step and sentence that puts something on."""
    puts = words()["way_back"]["puts_on"]
    for procedure in machine.procedures:
        for step in procedure.steps:
            if procedure.deed in ON or set(step.deeds) & set(ON):
                yield frozenset(stems(step.words.replace(",", " "))) - _taken_off(step), _by(step, procedure)
        if procedure.text and any_of(procedure.text, puts):
            said = frozenset(stems(procedure.text.replace(",", " ")))
            yield said, On("", (), procedure.id, procedure.id, procedure.citations, False)
    for section in machine.sections:
        text = f"{section.title}. {section.text}"
        if section.text and any_of(text, puts):
            said = frozenset(stems(text.replace(",", " ")))
            yield said, On("", (), section.id, section.id, section.citations, False)


def _taken_off(step: Step) -> frozenset[str]:
    """The words for what a step takes off while it puts something else on."""
    on = {stem for m in step.mentions if m.deed in ON for stem in stems(m.name)}
    off = {stem for m in step.mentions if m.deed in OFF for stem in stems(m.name)}
    return frozenset(off - on)
