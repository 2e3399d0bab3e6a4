"""What a sentence does to which parts: deeds, parts, counts, sizes, callouts."""

import re
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.counts import (
    Count,
    Parenthesis,
    count_before,
    count_in_bracket,
    counts_in,
    parentheses_in,
    read_callouts,
)
from lastbolt.reading.fasteners import Size, fastener_nouns, head_in, kind_of, sizes_in
from lastbolt.reading.governing import Governing
from lastbolt.reading.lexicon import Hit, Lexicon, Scan
from lastbolt.reading.verbs import Verb, leads, verbs_in
from lastbolt.words.machine import Deed, Mention
from lastbolt.words.quantity import UNSAID, Kind, Per, Quantity

_NUMBER_BEHIND = re.compile(
    r"\s?(?:nos?\.\s?|items?\s)?(\d{1,3}[A-Za-z]?(?:(?:,\s?|\s?-\s?|\sand\s)\d{1,3}[A-Za-z]?)*)(?![\w°%/×]|[.,-]\d|\s?(?:x|×|mm|cm|m\b|N|kg|l\b|in\b|lb|turn|time|°|hour|min|deg))"
)
_NAMES = re.compile(r"\s(?=[^\W\d_]{3})")
_COLON_LIST = re.compile(r"\s?:\s?(\d[\d,\sand–-]*)(?=[.;)]|$)")
_DIGIT = re.compile(r"\d")
_HARD = re.compile(r"[.;:!?]")
_CLOSES = re.compile(r"[,()“”\"]")
_ON = re.compile(r"\s?(?:\([^()]*\)\s?)?(?:(?:on|at|in|for|from)\s)?")
_BRACKETED = re.compile(r"\([^)]*\)")


class Facts(NamedTuple):
    """The deeds and mentions of one sentence, and doubts about them."""

    deeds: tuple[Deed, ...]
    mentions: tuple[Mention, ...]
    imperative: bool
    doubt: str


def facts_in(scan: Scan, language: Lexicon, *, callouts_in_brackets: bool) -> Facts:
    """The deeds and the parts of one sentence."""
    verbs = verbs_in(scan, language)
    reader = _Reader(scan, language, verbs, callouts_in_brackets)
    mentions = reader.fasteners() + reader.parts()
    mentions.sort(key=lambda entry: entry[0])
    deeds = tuple(dict.fromkeys(verb.deed for verb in verbs))
    if len(deeds) > 1:
        deeds = tuple(deed for deed in deeds if deed != "other")
    doubt = "; ".join(reader.doubts)
    imperative = bool(verbs) and leads(scan, verbs[0], language)
    return Facts(deeds, tuple(mention for _, mention in mentions), imperative, doubt)


@lru_cache(maxsize=4)
def _closing(language: Lexicon) -> frozenset[str]:
    """Words that stand in no part's name."""
    lists = (
        ("stop",), ("stop", "articles"), ("sizes", "millimetre"), ("quantities", "remaining"),
        ("quantities", "labels"), ("ordering",),
    )  # fmt: skip
    return frozenset(language.numbers).union(*(language.all_of(*one) for one in lists))


class _Reader:
    """Finds the parts of one sentence; each is found with its place so that order is kept."""

    def __init__(self, scan: Scan, language: Lexicon, verbs: list[Verb], callouts_in_brackets: bool) -> None:
        self.scan = scan
        self.language = language
        self.verbs = verbs
        self.governing = Governing(scan, language, verbs)
        self.closing = _closing(language)
        self.brackets_are_callouts = callouts_in_brackets
        heads = {verb.first for verb in verbs if self._handled(verb.last)}
        self.nouns = [
            noun for noun in fastener_nouns(scan) if noun.first not in heads or noun.form == "plural"
        ]
        self.sizes = sizes_in(scan.text)
        marked = _DIGIT.search(scan.text) is not None or scan.has("quantities")
        counts = counts_in(scan, language) if marked else []
        if self.sizes:
            counts = [c for c in counts if not any(z.start < c.end and c.start < z.end for z in self.sizes)]
        self.counts = counts
        self.brackets = parentheses_in(scan.text)
        self.verbal = {index for verb in verbs for index in (*range(verb.first, verb.last), verb.inner)}
        self.of_parts: list[Size] = []
        """Sizes of parts that are no fasteners: "two M5 x 14.5mm spacers"."""
        self.doubts: list[str] = [size.doubt for size in self.sizes if size.doubt]
        self.taken: list[tuple[int, int]] = [(count.start, count.end) for count in self.counts]

    def _handled(self, index: int) -> bool:
        """Whether the word there shows that the one before it is a verb."""
        if index >= len(self.scan.tokens):
            return False
        low = self.scan.tokens[index].low
        particle = self.language.among(low, "particles")
        return self.language.among(low, "stop", "articles") or low in self.language.numbers or particle

    def fasteners(self) -> list[tuple[int, Mention]]:
        """Every fastener that is named or sized."""
        found: list[tuple[int, Mention]] = []
        owned: dict[int, Hit] = {}
        for index, size in enumerate(self.sizes):
            noun = self._noun_of(size)
            if noun is not None:
                owned[index] = noun
        for noun in self.nouns:
            own = [i for i, owner in owned.items() if owner is noun]
            found.append(self._fastener(noun, self.sizes[own[0]] if own else None))
            for further in own[1:]:
                found.append(self._fastener(noun, self.sizes[further], alone=True))
        for index, size in enumerate(self.sizes):
            if index not in owned and not size.plain and size not in self.of_parts:
                found += self._sized_only(size)
        return found

    def _noun_of(self, size: Size) -> Hit | None:
        """The fastener word that a size belongs to: right behind it, else the one before it in the clause."""
        text = self.scan.text
        for noun in self.nouns:
            if noun.start >= size.end:
                between = text[size.end : noun.start]
                if (
                    len(between) < 34
                    and not re.search(r"[,;:.(]|\b(?:and|or)\b", between)
                    and self._describes(size.end, noun.start)
                ):
                    return noun
                break
        before = [noun for noun in self.nouns if noun.end <= size.start]
        if not before:
            self._names_a_part(size)
            return None
        noun = before[-1]
        between = text[noun.end : size.start]
        if between.strip(" ,:(") and self._names_a_part(size):
            return None
        if len(between) > 48 or re.search(r"[;.]\s", between):
            return None
        return noun

    def _names_a_part(self, size: Size) -> bool:
        """Whether the size stands right before the name of a part that is no fastener: it is that part's."""
        index = self.scan.token_at(size.end)
        if not _NAMES.match(self.scan.text, size.end) or index >= len(self.scan.tokens):
            return False
        low = self.scan.tokens[index].low
        if self._ends_phrase(low, index) or low.endswith("ly") or self._describes(size.end, size.end + 2):
            return False
        self.of_parts.append(size)
        return True

    def _describes(self, start: int, end: int) -> bool:
        """Whether only describing words stand between two characters."""
        covered = self.scan.covered("heads", "adjectives")
        for index in range(self.scan.token_at(start), self.scan.token_at(end)):
            if index not in covered and self.scan.tokens[index].low != "mm":
                return False
        return True

    def _fastener(self, noun: Hit, size: Size | None, *, alone: bool = False) -> tuple[int, Mention]:
        start = min(noun.start, size.start) if size is not None and not alone else noun.start
        end = max(noun.end, size.end) if size is not None else noun.end
        if alone and size is not None:
            start = size.start
        first = self.scan.token_at(start)
        count = self._count(first, start, end)
        name_start = self._name_start(noun.first)
        head = head_in(self.scan, self.scan.tokens[name_start].start, noun.end)
        kind = kind_of(noun.key, size, head)
        name = self._name(name_start, noun.last)
        begin = count.start if count is not None else start
        self.taken.append((min(begin, self.scan.tokens[name_start].start), end))
        quantity, callouts = self._behind(end, count, noun.form == "plural")
        if count is not None and count.callout:
            callouts = (count.callout, *callouts)
        if count is not None and count.doubt:
            self.doubts.append(count.doubt)
        quantity = self._told_behind(quantity, end, callouts, noun.form == "plural")
        if (
            quantity.kind == "unsaid"
            and not quantity.words
            and noun.form != "plural"
            and self._article(first)
        ):
            quantity = Quantity(
                "exactly", 1, 1, words=self.scan.text[self.scan.tokens[name_start].start : noun.end]
            )
        return start, Mention(
            name,
            self.governing.deed_at(noun.start if not alone else start, noun.end),
            quantity,
            kind,
            callouts,
        )

    def _sized_only(self, size: Size) -> list[tuple[int, Mention]]:
        """A size without a noun: a fastener when it has a length or is counted, else a part's thread."""
        count = self._count(self.scan.token_at(size.start), size.start, size.end)
        if size.length_mm is None and count is None:
            self.taken.append((size.start, size.end))
            return []
        quantity, callouts = self._behind(size.end, count, True)
        kind = Kind(None, size.thread, size.length_mm, None, size.strength)
        self.taken.append((size.start, size.end))
        name, deed = self.scan.text[size.start : size.end], self.governing.deed_at(size.start, size.end)
        return [(size.start, Mention(name, deed, quantity, kind, callouts))]

    def _article(self, first: int) -> bool:
        """Whether "the" or "a" stands before a singular noun: one piece is meant."""
        for index in range(first - 1, max(-1, first - 6), -1):
            low = self.scan.tokens[index].low
            if self.language.among(low, "stop", "articles"):
                return True
            if self.language.among(low, "stop") or low.isdigit():
                return False
        return False

    def _count(self, first: int, start: int, end: int) -> Count | None:
        """The count that goes with a noun phrase."""
        for count in self.counts:
            if start <= count.start and count.end <= end:
                return count
            gap = self.scan.text[count.end : start]
            if (
                count.end <= start
                and len(gap) < 30
                and not re.search(r"[,;:.(]", gap)
                and self._describes(count.end, start)
            ):
                return count
            after = self.scan.text[end : count.start]
            if count.start >= end and re.fullmatch(r"[\s,(]*(?:\([^)]*\))?[\s,(]*", after):
                return count
        return count_before(self.scan, first, self.language)

    def _behind(self, end: int, count: Count | None, plural: bool) -> tuple[Quantity, tuple[str, ...]]:
        """Callouts (or a count) that stand behind a noun phrase."""
        quantity = count.quantity if count is not None else UNSAID
        bracket = next((b for b in self.brackets if 0 <= b.start - end <= 2), None)
        listed = _COLON_LIST.match(self.scan.text, end)
        behind = _NUMBER_BEHIND.match(self.scan.text, end)
        if bracket is not None:
            lone = len(bracket.numbers) == 1 and not self.brackets_are_callouts
            if lone and count is None and plural and bracket.numbers[0].isdigit():
                number = int(bracket.numbers[0])
                return Quantity("exactly", number, number, words=_words(self.scan.text, bracket)), ()
            return quantity, bracket.numbers
        if listed is not None:
            return quantity, read_callouts(listed[1].strip())
        if behind is not None and not self._is_count(behind):
            return quantity, read_callouts(behind[1])
        return quantity, ()

    def _told_behind(self, quantity: Quantity, end: int, callouts: tuple[str, ...], plural: bool) -> Quantity:
        """The quantity with what follows the words: "(nine)", "on each side"."""
        if quantity.kind == "unsaid" and not quantity.words and not callouts and plural:
            bracket = _BRACKETED.match(self.scan.text, end + 1)
            inner = bracket.group()[1:-1] if bracket is not None else ""
            told = count_in_bracket(inner, self.language) if inner else None
            if told is not None and told.doubt:
                self.doubts.append(told.doubt)
            return told.quantity if told is not None else quantity
        if quantity.kind == "exactly" and quantity.per == "" and plural:
            for hit in self.scan.of("quantities", "per_side", "per_each"):
                if hit.start >= end and _ON.fullmatch(self.scan.text, end, hit.start):
                    per: Per = "side" if hit.key == "per_side" else "each"
                    said = self.scan.text[hit.start : hit.end]
                    return Quantity(
                        quantity.kind, quantity.low, quantity.high, per, f"{quantity.words} {said}"
                    )
        return quantity

    def _is_count(self, match: "re.Match[str]") -> bool:
        return any(count.start <= match.start(1) < count.end for count in self.counts)

    def _name_start(self, first: int) -> int:
        """The first token of the noun phrase that ends with a noun at `first`."""
        start = first
        while start > 0 and first - start < 5:
            token, following = self.scan.tokens[start - 1], self.scan.tokens[start]
            gap = self.scan.text[token.end : following.start]
            if gap.strip(" -") or not token.low.isalpha() or self._ends_phrase(token.low, start - 1):
                break
            if any(size.start <= token.start < size.end for size in self.sizes):
                break
            start -= 1
        return start

    def _ends_phrase(self, low: str, index: int) -> bool:
        return low in self.closing or index in self.verbal

    def _name(self, first: int, last: int) -> str:
        tokens = self.scan.tokens
        return self.scan.text[tokens[first].start : tokens[last - 1].end]

    def parts(self) -> list[tuple[int, Mention]]:
        """Parts that are no fasteners: what stands behind a verb of removing, installing and so on."""
        found: list[tuple[int, Mention]] = []
        for position, spoken in enumerate(self.verbs):
            verb = spoken._replace(deed=self.governing.passed_on(position))
            if verb.deed == "other":
                continue
            limit = self.verbs[position + 1].start if position + 1 < len(self.verbs) else len(self.scan.text)
            found.extend(self._objects(verb, limit))
        return found

    def _objects(self, verb: Verb, limit: int) -> list[tuple[int, Mention]]:
        found: list[tuple[int, Mention]] = []
        tokens, text = self.scan.tokens, self.scan.text
        index = verb.last
        first: int | None = None
        previous_end = verb.end
        using = {hit.first for hit in self.scan.of("using")}
        bracketed = [match.span() for match in _BRACKETED.finditer(text)] if "(" in text else []
        while index < len(tokens) and tokens[index].start < limit:
            token = tokens[index]
            gap = text[previous_end : token.start]
            spaced = gap == " "
            hard = not spaced and _HARD.search(gap) is not None
            closes = hard or (not spaced and _CLOSES.search(gap) is not None)
            low = token.low
            if index in using and not self._own_behind(index, verb):
                break
            if (bracketed and any(start < token.start < end for start, end in bracketed)) or (
                self.of_parts and any(size.start <= token.start < size.end for size in self.of_parts)
            ):
                if first is not None:
                    self._close(found, verb, first, index)
                    first = None
                previous_end = token.end
                index += 1
                continue
            ends = self._ends_phrase(low, index) or not low[0].isalpha() or low[-1:].isdigit() or "(" in gap
            if first is not None and (closes or ends):
                self._close(found, verb, first, index)
                first = None
            if hard or (ends and self._leaves(low, index, using)):
                break
            if not ends and first is None:
                first = index
            previous_end = token.end
            index += 1
        if first is not None:
            self._close(found, verb, first, index)
        return found

    def _own_behind(self, index: int, verb: Verb) -> bool:
        """Whether "with" brings parts along ("with its O-ring"), not a tool or a manner."""
        following = self.scan.tokens[index + 1 : index + 4]
        if following and self.language.among(following[0].low, "own"):
            return True
        return verb.deed == "install" and any(self.language.among(t.low, "fresh") for t in following)

    def _leaves(self, low: str, index: int, using: set[int]) -> bool:
        """Whether a word ends the objects of the verb (a list goes on over articles, numbers and "and")."""
        if self.language.among(low, "ands") or self.language.among(low, "stop", "articles") or index in using:
            return False
        return self.language.among(low, "stop")

    def _close(self, found: list[tuple[int, Mention]], verb: Verb, first: int, last: int) -> None:
        tokens = self.scan.tokens
        stops = _ending_none(self.language)
        while last > first and (tokens[last - 1].low in stops or tokens[last - 1].low.endswith("ly")):
            last -= 1
        while last > first and tokens[first].low.endswith("ly"):
            first += 1
        start, end = tokens[first].start, tokens[last - 1].end
        if last <= first or end - start < 3 or any(a < end and start < b for a, b in self.taken):
            return
        if self.language.among(tokens[first].low, "pronouns") or any(
            h.first == first
            for h in self.scan.of("pointing", "strong_cues", "section", "page", "figure", "table")
        ):
            return
        own = next((size for size in self.of_parts if 0 <= start - size.end <= 1), None)
        counted = first if own is None else self.scan.token_at(own.start)
        count = count_before(self.scan, counted, self.language, reach=2)
        plural = tokens[last - 1].low.endswith("s") and not tokens[last - 1].low.endswith("ss")
        quantity, callouts = self._behind(end, count, plural)
        self.taken.append((start, end))
        found.append((start, Mention(self.scan.text[start:end], verb.deed, quantity, None, callouts)))


@lru_cache(maxsize=4)
def _ending_none(language: Lexicon) -> frozenset[str]:
    """Words that cannot end a part's name."""
    return language.all_of("stop") | language.all_of("stop", "articles") | language.all_of("particles")


def _words(text: str, bracket: Parenthesis) -> str:
    return text[bracket.start : bracket.end]
