"""The words of one language, compiled once, and a single scan that finds all of them in a text."""

import copy
import re
import tomllib
from collections.abc import Iterable, Iterator
from functools import lru_cache
from importlib import resources
from typing import Any

from msgspec import Struct

_NOT_SCANNED = frozenset(
    (
        "language", "endings", "sizes", "numbers", "abbreviations", "deed_nouns", "particles", "ands",
        "ordering", "deed_titles", "titles", "stop", "own", "pronouns", "letting", "front_words", "torque",
        "left_over", "other_parts", "passive", "joined_counts", "row_notes",
    )
)  # fmt: skip
"""Tables that are only asked, never found in a text."""
WORD = re.compile(r"[^\W_²³¹⁰-₎]+(?:['’][^\W\d_]+)?|[§¶°±]|\+/[-−]")
"""Raised and lowered figures are no part of a word: they are marks of notes, powers or tolerances."""
GAP = re.compile(r"[\s\-./\u2010\u2011\u00ad]{0,3}")


class Token(Struct, frozen=True, gc=False):
    """One word of a text, in lower case, and where it stands."""

    low: str
    start: int
    end: int


class Hit(Struct, frozen=True, gc=False):
    """A phrase of the lexicon found in a text. `table` and `key` name its list in the language file."""

    table: str
    key: str
    start: int
    end: int
    first: int
    last: int
    """Token positions: the first, and the one after the last."""
    form: str


class Scan:
    """A text with its tokens and every phrase of the lexicon in it, longest first at each place."""

    __slots__ = ("_by_table", "_covered", "hits", "text", "tokens")

    def __init__(self, text: str, tokens: list[Token], hits: list[Hit]) -> None:
        self.text = text
        self.tokens = tokens
        self.hits = hits
        self._by_table: dict[str, list[Hit]] = {}
        self._covered: dict[tuple[str, ...], frozenset[int]] = {}
        for hit in hits:
            self._by_table.setdefault(hit.table, []).append(hit)

    def of(self, table: str, *keys: str) -> list[Hit]:
        """The hits of one table, in order; with keys, only of those lists."""
        hits = self._by_table.get(table)
        if hits is None:
            return []
        return [hit for hit in hits if hit.key in keys] if keys else hits

    def has(self, table: str, *keys: str) -> bool:
        """Whether any phrase of these lists is there."""
        hits = self._by_table.get(table)
        return hits is not None and (not keys or any(hit.key in keys for hit in hits))

    def covered(self, *tables: str) -> frozenset[int]:
        """The tokens that stand in any hit of some tables."""
        found = self._covered.get(tables)
        if found is None:
            hits = (hit for table in tables for hit in self.of(table))
            found = frozenset(index for hit in hits for index in range(hit.first, hit.last))
            self._covered[tables] = found
        return found

    def token_at(self, position: int) -> int:
        """The index of the first token that starts at or after a character position."""
        low, high = 0, len(self.tokens)
        while low < high:
            middle = (low + high) // 2
            if self.tokens[middle].start < position:
                low = middle + 1
            else:
                high = middle
        return low


class Lexicon:
    """The language file, compiled. `scan` is the one way in; `words` gives a list as it stands."""

    def __init__(self, data: dict[str, Any]) -> None:
        self.data = data
        self.language: str = data["language"]
        self.numbers: dict[str, int] = _with_compounds(data["numbers"])
        self._endings: dict[str, Any] = data["endings"]
        self.abbreviations: frozenset[str] = frozenset(data["abbreviations"]["words"])
        self.sets: dict[tuple[str, str], frozenset[str]] = {}
        self._last_scans = lru_cache(maxsize=256)(self._scan)
        """The same words are looked at by several rules, one soon after the other."""
        self._first: dict[str, list[tuple[tuple[str, ...], str, str, str]]] = {}
        self._seconds: dict[str, frozenset[str]] = {}
        """First word -> the words that may follow it in a longer phrase."""
        self._singles: dict[str, tuple[tuple[str, str, str], ...]] = {}
        """First word -> what it is when it stands alone."""
        for table, lists in data.items():
            if table in _NOT_SCANNED or not isinstance(lists, dict):
                continue
            for key, phrases in lists.items():
                if isinstance(phrases, list):
                    self._add_list(table, key, phrases)
        for phrases in list(data["deeds"].values()):
            for phrase in phrases:
                self._add("deeds", "other", phrase.split()[0], "base")
        for phrase in self.numbers:
            self._add("numbers", phrase, phrase, "")
        for first, entries in self._first.items():
            entries.sort(key=lambda entry: -len(entry[0]))
            self._seconds[first] = frozenset(entry[0][1] for entry in entries if len(entry[0]) > 1)
            alone = {
                table: (table, key, form) for words, table, key, form in entries[::-1] if len(words) == 1
            }
            self._singles[first] = tuple(alone.values())[::-1]

    def words(self, table: str, key: str = "words") -> tuple[str, ...]:
        """One list of the language file."""
        return tuple(self.data[table][key])

    def among(self, word: str, table: str, key: str = "words") -> bool:
        """Whether a lower-case word or phrase is in a list of the language file."""
        return word in self.all_of(table, key)

    def all_of(self, table: str, key: str = "words") -> frozenset[str]:
        """One list of the language file, to be asked many times."""
        found = self.sets.get((table, key))
        if found is None:
            found = self.sets[table, key] = frozenset(self.data[table][key])
        return found

    def opens(self, word: str, table: str) -> bool:
        """Whether any phrase of a scanned table begins with a lower-case word."""
        found = self.sets.get((table, "*first*"))
        if found is None:
            firsts = [w for w, entries in self._first.items() if any(e[1] == table for e in entries)]
            found = self.sets[table, "*first*"] = frozenset(firsts)
        return word in found

    def deed_of(self, phrase: str) -> str | None:
        """The deed of a verb with its particle ("take off"), or None."""
        first, *rest = phrase.split()
        for words, table, key, form in self._first.get(first, ()):
            if table == "deeds" and form == "base" and list(words[1:]) == rest:
                return key
        return None

    def scan(self, text: str) -> Scan:
        """The text's tokens and hits; of each table the longest hit at each place."""
        return self._last_scans(text)

    def _scan(self, text: str) -> Scan:
        tokens = [Token(word[0].lower(), word.start(), word.end()) for word in WORD.finditer(text)]
        count = len(tokens)
        hits: list[Hit] = []
        for first, token in enumerate(tokens):
            low = token.low
            entries = self._first.get(low)
            if entries is None:
                continue
            following = tokens[first + 1].low if first + 1 < count else ""
            if following not in self._seconds[low]:
                for table, key, form in self._singles[low]:
                    hits.append(Hit(table, key, token.start, token.end, first, first + 1, form))
                continue
            found: set[str] = set()
            for words, table, key, form in entries:
                if table in found:
                    continue
                last = first + len(words)
                if len(words) > 1 and (
                    last > count or tokens[first + 1].low != words[1] or not _same(text, tokens, first, words)
                ):
                    continue
                found.add(table)
                hits.append(Hit(table, key, token.start, tokens[last - 1].end, first, last, form))
        return Scan(text, tokens, hits)

    def _add_list(self, table: str, key: str, phrases: Iterable[str]) -> None:
        for phrase in phrases:
            if table == "deeds":
                for form, spelled in self._verb_forms(phrase):
                    self._add(table, key, spelled, form)
            else:
                self._add(table, key, phrase, "")
            if table == "fasteners":
                for ending in self._endings["plural"]:
                    self._add(table, key, phrase + ending, "plural")
            if table == "not_fasteners":
                for ending in self._endings["plural"]:
                    self._add(table, "words", phrase + ending, "")
                if key == "either_order":
                    turned = " ".join(reversed(phrase.split()))
                    self._add(table, "words", turned, "")

    def _verb_forms(self, phrase: str) -> Iterator[tuple[str, str]]:
        """The base form, and the forms that stand in titles and conditions (removing, removed)."""
        verb, _, rest = phrase.partition(" ")
        tail = f" {rest}" if rest else ""
        yield "base", phrase
        stem = verb.removesuffix(self._endings["silent"])
        for ending in self._endings["verb"]:
            form = "done" if ending in ("d", "ed") else "doing"
            yield form, verb + ending + tail
            if stem != verb:
                yield form, stem + ending + tail
        for spelled in self._endings["irregular"].get(verb, []):
            yield ("doing" if spelled.endswith(self._endings["verb"][-1]) else "done"), spelled + tail

    def _add(self, table: str, key: str, phrase: str, form: str) -> None:
        words = tuple(m.group().lower() for m in WORD.finditer(phrase))
        if words:
            entries = self._first.setdefault(words[0], [])
            if not any(entry[0] == words and entry[1] == table for entry in entries):
                entries.append((words, table, key, form))


def _same(text: str, tokens: list[Token], first: int, words: tuple[str, ...]) -> bool:
    """Whether the tokens from `first` spell the words with nothing but spaces and hyphens between."""
    if first + len(words) > len(tokens):
        return False
    for offset in range(1, len(words)):
        token = tokens[first + offset]
        if token.low != words[offset]:
            return False
        if not GAP.fullmatch(text, tokens[first + offset - 1].end, token.start):
            return False
    return True


def _with_compounds(numbers: dict[str, int]) -> dict[str, int]:
    """The numbers with those of two words: "twenty-one" (a hyphen between them is as good as a space)."""
    tens = {word: number for word, number in numbers.items() if number in range(20, 100, 10)}
    ones = {word: number for word, number in numbers.items() if 0 < number < 10 and word.isalpha()}
    ones.pop("both", None)
    made = {f"{ten} {one}": tens[ten] + ones[one] for ten in tens for one in ones}
    return {**numbers, **made}


@lru_cache(maxsize=4)
def lexicon(language: str = "english") -> Lexicon:
    """The lexicon of a language whose file lies beside this module."""
    text = resources.files(__package__).joinpath(f"{language}.toml").read_text(encoding="utf-8")
    return Lexicon(tomllib.loads(text))


@lru_cache(maxsize=16)
def lexicon_of_book(language: str, sections: tuple[str, ...], pages: tuple[str, ...] = ()) -> Lexicon:
    """The lexicon of a language with the words by which one book calls its sections ("card", "unit") and its
    pages ("folio")."""
    data = lexicon(language).data
    for key, words in (("section", sections), ("page", pages)):
        data = _with_words(data, key, words) if words else data
    return Lexicon(data) if sections or pages else lexicon(language)


def _with_words(data: dict[str, Any], into: str, called: tuple[str, ...]) -> dict[str, Any]:
    """The language's lists with further words that point; what else they mean is left out."""
    data = copy.deepcopy(data)
    plurals = [f"{word.rstrip('.')}{data['endings']['plural'][0]}" for word in called if word.isalpha()]
    words = {*called, *(word.rstrip(".") for word in called), *plurals}
    for table in ("pointing", "papers", "left_over"):
        for key, phrases in data[table].items():
            data[table][key] = [phrase for phrase in phrases if phrase not in words]
    data["pointing"][into] += sorted(words)
    data["abbreviations"]["words"] += [word[:-1] for word in called if word.endswith(".")]
    return data
