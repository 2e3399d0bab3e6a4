"""Limits in sentences: "end float 0.05-0.15 mm, limit 0.25", "replace if thinner than 2.8 mm"."""

import re
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.limit_cues import Cues, cues_beside, good_side
from lastbolt.reading.limit_facts import Named, Read, same_kind, wears
from lastbolt.reading.limit_words import LimitWords, limit_words, measure_names
from lastbolt.reading.measured_values import Value, decimal_sign, values_in
from lastbolt.reading.phrases import Phrases
from lastbolt.words.measured import LimitSense

_DIGIT = re.compile(r"\d")
_BESIDE = re.compile(r"\s?(?:[(\[/=;,]|\)\s?\(|or)?\s?")
_ONLY_SIGNS = re.compile(r"[\s:=,(]*")
_PAST_SIGNS = re.compile(r"^[\s,;:(]+")
_WORD = re.compile(r"[^\W\d_][\w'’-]*")
_REACH = 110
"""A limit stands at most this many characters behind its standard."""
_COLUMN = 3
"""So many values with nothing between are a column."""
_MOST_WORDS = 5
_MOST_NAME = 60
_MOST_BEFORE = 45
_NO_PARTS = (
    ("cues", "articles"), ("cues", "check"), ("cues", "standard"), ("cues", "limit"), ("sense", "at_most"),
    ("sense", "at_least"),
)  # fmt: skip
"""Words before a kind of size that belong to no part's name."""


class ProseLimit(NamedTuple):
    """A limit that a text states, and the words that state it."""

    name: Named
    read: Read
    words: str


class Prose(NamedTuple):
    """The limits of a text, and what looks like one and was not understood: words with the reason."""

    limits: tuple[ProseLimit, ...] = ()
    unread: tuple[tuple[str, str], ...] = ()


class _Group(NamedTuple):
    """A value in one unit or several side by side, and what it is."""

    values: tuple[Value, ...]
    cues: Cues
    sense: LimitSense
    measure: "re.Match[str] | None"

    @property
    def start(self) -> int:
        return self.values[0].start

    @property
    def end(self) -> int:
        return self.values[-1].end


@lru_cache(maxsize=4)
def _quick(words: LimitWords) -> Phrases:
    """Texts without one of these state no limit."""
    keys = (("cues", "limit"), ("cues", "standard"), ("cues", "needed"), ("cues", "exceeded"))
    senses = (("sense", key) for key in ("at_most", "at_least", "over", "under"))
    return Phrases(word for key in (*keys, *senses) for word in words.words(*key))


def limits_in(text: str, language: Lexicon) -> Prose:
    """The limits that a text states."""
    if not _DIGIT.search(text):
        return Prose()
    words = limit_words()
    if not _quick(words).search(text) and not measure_names(words).search(text):
        return Prose()
    groups = _groups(text, language, words)
    unread = tuple(_unread(text, groups, words))
    if _is_table(text, groups):
        return Prose((), ((text[:_MOST_NAME], "it looks like a table whose rows cannot be told"),))
    used = [group for group in groups if all(value.understood for value in group.values)]
    found: list[tuple[_Group | None, _Group | None]] = []
    for group in used:
        what = _role(text, group, words)
        if not what:
            continue
        last = found[-1] if found else (None, None)
        if what == "limit" and last[0] is not None and last[1] is None and _belongs(text, last[0], group):
            found[-1] = (last[0], group)
        elif (
            what == "standard" and last[1] is not None and last[0] is None and _belongs(text, last[1], group)
        ):
            found[-1] = (group, last[1])
        else:
            found.append((group, None) if what == "standard" else (None, group))
    made = [_made(text, pair, language, words) for pair in found]
    return Prose(tuple(one for one in made if one is not None), unread)


def _is_table(text: str, groups: Sequence[_Group]) -> bool:
    """Whether values follow one another with nothing between, as where columns were read one by one."""
    run = 1
    for one, other in pairwise(groups):
        run = run + 1 if not text[one.end : other.start].strip(" |\t") else 1
        if run >= _COLUMN:
            return True
    return False


def _groups(text: str, language: Lexicon, words: LimitWords) -> list[_Group]:
    values = values_in(text, decimal_sign([text]), words)
    runs: list[list[Value]] = []
    for value in values:
        last = runs[-1][-1] if runs else None
        if (
            last is not None
            and value.span.unit
            and last.span.unit
            and _BESIDE.fullmatch(text, last.end, value.start)
        ):
            fresh = all(value.span.unit != one.span.unit for one in runs[-1])
            if fresh and same_kind(value.span.unit, last.span.unit):
                runs[-1].append(value)
                continue
        runs.append([value])
    measures = [
        match
        for match in measure_names(words).finditer(text)
        if not _is_verb(text, match, words) and not _is_in_a_name(text, match, language, words)
    ]
    groups = []
    for at, run in enumerate(runs):
        low = runs[at - 1][-1].end if at else 0
        high = runs[at + 1][0].start if at + 1 < len(runs) else len(text)
        cues = cues_beside(text, (run[0].start, run[-1].end), (low, high), words)
        sense = good_side(text, run[0].start, cues, words)
        groups.append(_Group(tuple(run), cues, sense, _measure_of(text, run, measures)))
    return groups


def _is_verb(text: str, match: "re.Match[str]", words: LimitWords) -> bool:
    """Whether a word for a kind of size opens a sentence and says to do something: "Bend the tab"."""
    opens = match.start() == 0 or text[: match.start()].rstrip().endswith((".", "!", ";", ":"))
    behind = _WORD.search(text, match.end())
    return opens and behind is not None and words.among(behind[0], "cues", "articles")


def _is_in_a_name(text: str, match: "re.Match[str]", language: Lexicon, words: LimitWords) -> bool:
    """Whether a noun behind it makes a kind of size the name of a part: "pressure plate"."""
    behind = _WORD.match(text, match.end() + 1)
    if behind is None or text[match.end()] not in " -":
        return False
    low = behind[0].lower()
    return not (
        language.among(low, "stop")
        or words.among(low, "cues", "between")
        or _quick(words).match(text, behind.start())
        or words.pattern("sense", "needed", "if", "refusing").match(text, behind.start())
        or low.endswith(("ly", "ed"))
    )


def _measure_of(
    text: str, run: Sequence[Value], measures: Sequence["re.Match[str]"]
) -> "re.Match[str] | None":
    """The kind of size named nearest before a value, else behind it in its sentence."""
    before = [match for match in measures if match.end() <= run[0].start]
    if before:
        return before[-1]
    end = text.find(". ", run[-1].end)
    behind = [match for match in measures if match.start() >= run[-1].end]
    return behind[0] if behind and (end < 0 or behind[0].start() < end) else None


def _role(text: str, group: _Group, words: LimitWords) -> str:
    """Whether a value is a limit, a standard size or neither."""
    every, value = group.cues.every, group.values[0]
    measured = group.measure is not None or bool(group.cues.implied)
    if not every and _paired(text, group, words):
        return "standard"
    if not value.span.unit and (text[max(0, group.start - 1) : group.start] == "(" or not every):
        return ""
    if "standard" in every and not ("limit" in every and group.sense):
        return "standard"
    if "limit" in every:
        return "limit" if measured or value.span.unit or value.half < 0.5 else ""
    if group.sense:
        return "limit" if measured and value.span.unit else ""
    ranged = value.span.low != value.span.high
    if not value.span.unit or not measured or every & {"over", "under"}:
        return ""
    if "needed" in every or ranged:
        return "standard" if "needed" in every or words.pattern("cues", "check").search(text) else ""
    return ""


def _paired(text: str, group: _Group, words: LimitWords) -> bool:
    """Whether a value stands between the size that it is of and its limit: "length 38.5, limit 37.0 mm"."""
    if group.measure is None or group.measure.end() > group.start:
        return False
    if not _ONLY_SIGNS.fullmatch(text, group.measure.end(), group.start):
        return False
    behind = _PAST_SIGNS.sub("", text[group.end : group.end + 40])
    return words.pattern("cues", "limit").match(behind) is not None and any(c.isdigit() for c in behind)


def _belongs(text: str, one: _Group, other: _Group) -> bool:
    """Whether a standard and a limit are of one size: near each other, and no other size is named between."""
    first, last = (one, other) if one.start < other.start else (other, one)
    if last.start - first.end > _REACH:
        return False
    units = {value.span.unit for value in (*first.values[:1], *last.values[:1]) if value.span.unit}
    if len(units) == 2 and not same_kind(*units):
        return False
    named = last.measure is not first.measure and last.measure is not None and first.measure is not None
    between = last.measure is not None and last.measure.start() >= first.end
    if named and between and last.measure is not None and first.measure is not None:
        return last.measure[0].lower() == first.measure[0].lower()
    return True


def _made(
    text: str, pair: tuple[_Group | None, _Group | None], language: Lexicon, words: LimitWords
) -> ProseLimit | None:
    standard, limit = pair
    groups = sorted((group for group in pair if group is not None), key=lambda group: group.start)
    if limit is None and standard is not None and not _stands_alone(text, standard, words):
        return None
    measure = next((group.measure for group in groups if group.measure is not None), None)
    implied = next((group.cues.implied for group in groups if group.cues.implied), "")
    start = text.rfind(". ", 0, groups[0].start) + 1
    name = _named(text, measure, implied, (start, groups[0].start), language, words)
    end = text.find(". ", groups[-1].end)
    said = text[start : end + 1 if end >= 0 else len(text)].strip()
    read = Read(
        _ends(standard) if standard is not None else (),
        limit.values if limit is not None else (),
        limit.sense if limit is not None else "",
    )
    return ProseLimit(name, read, said)


def _ends(group: _Group) -> tuple[Value, ...]:
    """A standard of which words name one end only ("standard max. 0.05 mm")."""
    made = []
    for value in group.values:
        span = value.span
        if group.sense in ("at most", "at least") and span.low == span.high:
            one = (
                type(span)(None, span.high, span.unit)
                if group.sense == "at most"
                else type(span)(span.low, None, span.unit)
            )
            made.append(value._replace(span=one))
        else:
            made.append(value)
    return tuple(made)


def _stands_alone(text: str, group: _Group, words: LimitWords) -> bool:
    """Whether a standard size without a limit is worth keeping: its kind is named and it is to be checked."""
    named = group.measure is not None and bool(group.values[0].span.unit)
    return named and words.pattern("cues", "check").search(text) is not None


def _named(
    text: str,
    measure: "re.Match[str] | None",
    implied: str,
    room: tuple[int, int],
    language: Lexicon,
    words: LimitWords,
) -> Named:
    if measure is None:
        said = text[room[0] : room[1]]
        cuts = (words.pattern("sense", key).search(said) for key in ("if", "needed"))
        said = said[: min((m.start() for m in cuts if m is not None and m.start() > 0), default=len(said))]
        what = " ".join(said.split()).strip(" ,:;(")
        return Named(what[:_MOST_NAME].strip() or implied, implied, "", wears(implied, words))
    kind = measure[0].lower()
    behind = _part_behind(text, measure.end(), language, words)
    if behind is not None:
        return Named(text[measure.start() : behind[1]], kind, text[behind[0] : behind[1]], wears(kind, words))
    first = _part_before(text, measure.start(), language, words)
    part = text[first : measure.start()].strip().removesuffix("'s").removesuffix("’s")
    return Named(text[first : measure.end()], kind, part, wears(kind, words))


def _part_behind(text: str, at: int, language: Lexicon, words: LimitWords) -> tuple[int, int] | None:
    """What stands behind "of" or "between" after a kind of size."""
    of = re.compile(rf"\s(?P<of>{words.any_of('measures', 'of')})\s", re.IGNORECASE).match(text, at)
    if of is None:
        return None
    both = words.among(of["of"], "cues", "among")
    start = end = of.end()
    count = 0
    for match in _WORD.finditer(text, of.end()):
        low = match[0].lower()
        if text[end : match.start()].strip() or count >= _MOST_WORDS + 3 * both:
            break
        if count == 0 and words.among(low, "cues", "articles"):
            start = end = match.end()
            continue
        joins = both and (words.among(low, "numbers", "both") or words.among(low, "cues", "articles"))
        if language.among(low, "stop") and not joins:
            break
        count += 1
        end = match.end()
        start = match.start() if count == 1 else start
    return (start, end) if count else None


def _part_before(text: str, at: int, language: Lexicon, words: LimitWords) -> int:
    """Where the name of the part right before a kind of size begins: "the rotor's end float"."""
    first = at
    for match in reversed(list(_WORD.finditer(text, max(0, at - 60), at))):
        low = match[0].lower()
        apart = text[match.end() : first].strip() or at - match.start() > _MOST_BEFORE
        if apart or language.among(low, "stop") or any(words.among(low, *one) for one in _NO_PARTS):
            break
        first = match.start()
    return first


def _unread(text: str, groups: Sequence[_Group], words: LimitWords) -> list[tuple[str, str]]:
    """Numbers beside the words of a limit that could not be understood."""
    found = []
    for group in groups:
        doubt = next((value.doubt for value in group.values if not value.understood), "")
        if doubt and (group.cues.every & {"limit", "standard"} or group.sense):
            found.append((text[group.start : group.end], doubt))
    covered = [(group.start, group.end) for group in groups]
    for match in words.pattern("cues", "strong").finditer(text):
        token = re.compile(r"[\s:=(]*(?:(?:is|of)\s)?(?P<n>[.,]?\d[\w.,]*)").match(text, match.end())
        if token is not None and not any(a <= token.start("n") < b for a, b in covered):
            found.append((text[match.start() : token.end()], "the number is not understood"))
    return found
