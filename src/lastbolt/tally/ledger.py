"""Where claims and causes are gathered while evidence is turned into them."""

from collections.abc import Iterable

from lastbolt.tally.assumed_rates import ASSUMED_CHANCE
from lastbolt.words.citation import Citation
from lastbolt.words.claims import Cause, Claim, Sense
from lastbolt.words.evidence import Evidence
from lastbolt.words.where import where

WEAK = ("glance", "heads only")
"""Kinds of cause that cost nothing: what a weak witness did not see was never well shown."""


class Ledger:
    """Claims and causes so far; asking for a cause notes it."""

    def __init__(self, evidence: Evidence) -> None:
        self.people = dict(evidence.people)
        self.labels = {place.id: place.label for place in evidence.places}
        self.last_break = max((pause.moment for pause in evidence.breaks), default=None)
        self._causes: dict[str, Cause] = {}
        self._claims: list[Claim] = []

    @property
    def causes(self) -> tuple[Cause, ...]:
        """All causes that some claim names."""
        used = {cause for claim in self._claims for cause in claim.causes}
        return tuple(cause for cause in self._causes.values() if cause.id in used)

    @property
    def claims(self) -> tuple[Claim, ...]:
        """All claims, in the order in which they were made."""
        return tuple(self._claims)

    def cause(self, kind: str, *about: str, words: str) -> str:
        """The id of the cause of this kind about these things; its cost goes by its kind."""
        key = ":".join((kind, *about))
        if key not in self._causes:
            cost = 0 if kind in WEAK else 1
            self._causes[key] = Cause(key, kind, cost, ASSUMED_CHANCE[kind], words)
        return key

    def claim(
        self,
        kind: str,
        pieces: Iterable[str],
        relation: tuple[Sense, int],
        causes: Iterable[str],
        words: str,
    ) -> None:
        """Claim that these pieces add up so; a claim about no pieces at all is not made."""
        terms = tuple((piece, 1) for piece in dict.fromkeys(pieces))
        if not terms:
            return
        name = f"{kind} {len(self._claims) + 1}"
        self._claims.append(Claim(name, kind, terms, *relation, tuple(dict.fromkeys(causes)), words))

    # ---- causes that several claims share, and how things are called ----

    def who(self, person: str) -> str:
        """How to call a person."""
        return self.people.get(person) or person or "somebody"

    def label(self, place: str) -> str:
        """How to call a place: "place 7"."""
        return f"place {self.labels.get(place) or place}"

    def engine(self) -> str:
        """The root shared by every claim of a paper."""
        return self.cause("engine", words="this machine is not as its papers say")

    def person(self, person: str) -> str:
        """The root shared by all that one person said, ticked and counted."""
        return self.cause("did not look", person, words=f"{self.who(person)} did not really look")

    def changed(self, moment: int) -> tuple[str, ...]:
        """The root shared by all that was seen or done before the last break, if this was."""
        if self.last_break is None or moment > self.last_break:
            return ()
        words = "something was put back or taken out unrecorded, before or during the last break"
        return (self.cause("changed since", words=words),)

    def broken(self, place: str) -> str:
        """The root shared by all who could not see a shank without its head."""
        words = f"the fastener at {self.label(place)} is broken off, its shank still in"
        return self.cause("broken", place, words=words)

    def depth(self, place: str) -> str:
        """The root shared by all who measured by the hole's known depth."""
        words = f"the hole at {self.label(place)} is deeper than it was taken to be"
        return self.cause("depth", place, words=words)

    def taken_out_since(self, place: str) -> str:
        """The root shared by all who saw something in: it may have come out since, unrecorded."""
        words = f"what was seen in at {self.label(place)} was taken out since, not recorded"
        return self.cause("taken out, not recorded", place, words=words)

    def lineage(self, lineage: str) -> str:
        """The root shared by sources that descend from one another."""
        return self.cause("lineage", lineage, words=f"a mistake handed down within {lineage or 'the papers'}")


def cited(words: str, citation: Citation | None) -> str:
    """The words with where they stand: "figure 7 item 3 (Parts list, printed page 12, PDF page 14)"."""
    place = where(citation) if citation else ""
    if not place or place in words:
        return words
    return f"{words} ({place})" if words else place
