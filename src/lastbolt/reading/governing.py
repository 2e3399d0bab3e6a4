"""Which verb of a sentence governs a part that it names, and what deed that makes."""

import re
from functools import lru_cache

from lastbolt.reading.lexicon import Lexicon, Scan
from lastbolt.reading.numbers import any_of
from lastbolt.reading.verbs import Verb
from lastbolt.words.machine import Deed

_GIVES_WAY: tuple[Deed, ...] = ("other", "loosen", "check", "mark")
"""What one may do to a part before it is taken off or put on: "slacken the plug and unscrew it"."""
_GIVES_WAY_TO_NONE: tuple[Deed, ...] = ("other", "check", "mark", "tighten", "loosen")


@lru_cache(maxsize=4)
def _anew(language: Lexicon) -> re.Pattern[str]:
    """What begins another clause: "and", "then", a comma."""
    joints = any_of((*language.words("left_over", "both"), *language.words("left_over", "then")))
    return re.compile(rf"\b(?:{joints})\b|[;.]\s|,\s")


class Governing:
    """The verbs of one sentence, asked what they do to the parts around them."""

    def __init__(self, scan: Scan, language: Lexicon, verbs: list[Verb]) -> None:
        self.scan = scan
        self.language = language
        self.verbs = verbs

    def deed_at(self, start: int, end: int) -> Deed:
        """The deed that governs a part: the verb before it, unless the part only says where or of what."""
        verb = self._verb_before(start)
        if verb is None:
            return "other"
        relation = self._relation(verb, start)
        if relation == "held":
            return "other"
        return self.passed_on(self.verbs.index(verb)) if relation == "direct" else verb.deed

    def _verb_before(self, start: int) -> Verb | None:
        before = [verb for verb in self.verbs if verb.end <= start]
        if before:
            return before[-1]
        lead = self.scan.of("using")
        if lead and lead[0].first == 0 and self.verbs:
            return self.verbs[0]
        return None

    def _relation(self, verb: Verb, start: int) -> str:
        """Whether "from", "of", "holding" or "with", "using" stands last between the verb and the part."""
        last, word = -1, "direct"
        for table in ("held_by", "using"):
            for hit in self.scan.of(table):
                if verb.end <= hit.start < start and hit.start > last:
                    joined = self.scan.text[hit.end : start]
                    if table == "held_by" and _anew(self.language).search(joined):
                        continue
                    last, word = hit.start, "held" if table == "held_by" else "using"
        return word

    def passed_on(self, position: int) -> Deed:
        """The verb's deed; of a verb that only handles its part, that of the next one done to "it"."""
        verb = self.verbs[position]
        if position + 1 < len(self.verbs) and verb.deed in _GIVES_WAY and self._takes_it(position + 1):
            return self.passed_on(position + 1)
        return verb.deed

    def _takes_it(self, position: int) -> bool:
        """Whether "it" or "them" stands right behind a verb."""
        verb, tokens = self.verbs[position], self.scan.tokens
        if verb.deed in _GIVES_WAY_TO_NONE or verb.last >= len(tokens):
            return False
        return self.language.among(tokens[verb.last].low, "pronouns", "back")
