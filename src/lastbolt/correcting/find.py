"""Which fact a correction speaks of, if the source still says what it saw."""

from collections.abc import Iterable

from msgspec import Struct

from lastbolt.correcting.facts import Fact, even
from lastbolt.words.corrections import Confirmed, Correction

GONE = "there is no such fact any more"
OTHER_WORDS = "other words stand there now"
SEVERAL = "several facts answer to it"
READ_OTHERWISE = "it is read otherwise now than what was confirmed"


class Orphan(Struct, frozen=True):
    """A correction that no longer finds its fact: why, what stands at its id now, and where its words
    stand now, if at just one place."""

    correction: Correction
    why: str
    now: Fact | None = None
    elsewhere: Fact | None = None


class Finder:
    """The facts of a model, to be found by id and words."""

    def __init__(self, facts: Iterable[Fact]) -> None:
        self._by_id: dict[str, list[Fact]] = {}
        self._by_words: dict[str, list[Fact]] = {}
        for fact in facts:
            self._by_id.setdefault(fact.id, []).append(fact)
            self._by_words.setdefault(fact.saw, []).append(fact)

    def find(self, correction: Correction) -> Fact | Orphan:
        """The one fact of the correction's id that stands on its words.

        A torque or count has moved within its step when its words stand there at another turn, once.
        """
        saw = even(correction.saw)
        here = self._by_id.get(correction.fact, [])
        fitting = [fact for fact in here if fact.saw == saw]
        if not fitting and here and here[0].of:
            fitting = [
                fact
                for fact in self._by_words.get(saw, [])
                if fact.of == here[0].of and fact.sort == here[0].sort
            ]
        if len(fitting) == 1:
            found = fitting[0]
            if isinstance(correction, Confirmed) and correction.read_as != found.seen:
                return Orphan(correction, READ_OTHERWISE, found)
            return found
        if fitting:
            return Orphan(correction, SEVERAL, fitting[0])
        elsewhere = self._by_words.get(saw, [])
        one = elsewhere[0] if len(elsewhere) == 1 else None
        return Orphan(correction, OTHER_WORDS if here else GONE, here[0] if here else None, one)
