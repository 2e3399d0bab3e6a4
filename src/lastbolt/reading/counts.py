"""How many: quantities of sentences, and lists of callouts."""

import re
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.lexicon import Hit, Lexicon, Scan, lexicon
from lastbolt.reading.numbers import any_of
from lastbolt.reading.sizes import sizes_in
from lastbolt.words.quantity import Per, Quantity, QuantityKind

_PER: tuple[tuple[str, Per], ...] = (
    ("per_side", "side"),
    ("per_each", "each"),
    ("per_assembly", "assembly"),
    ("per_figure", "figure"),
)
_CALLOUT_LIST = re.compile(
    r"\d{1,3}[A-Za-z]?(?:\s?[-–]\s?\d{1,3}[A-Za-z]?)?(?:(?:\s?[,;&]\s?|\s(?:and|or|und|et|y)\s)\d{1,3}[A-Za-z]?(?:\s?[-–]\s?\d{1,3}[A-Za-z]?)?)*"
)
_SPLIT_LIST = re.compile(r"\s?[,;&]\s?|\s[a-z]+\s")
_SPAN = re.compile(r"(\d{1,3})\s?[-–]\s?(\d{1,3})")
_TIMES = re.compile(
    r"(?<![\w.,/-])(?:(\d{1,3}[A-Za-z]?)\s?[-–]\s?)?(\d{1,3})\s?[x×](?=$|[\s\)\],;:])|(?<![\w.])[x×]\s?(\d{1,3})(?![\d.,]|\s?mm)"
)
_SIZE_BEHIND = re.compile(r"\s?\d{1,3}(?:[.,]\d+)?\s?(?:mm\b|$|[,;)])")
_LABEL_FIRST = re.compile(r"\s?[.:=]?\s?(\d{1,3})(?![\d.,/]|\s?(?:mm|x|×))")
_REACH = 16
"""A size before a noun is no longer than this."""
_REACH_JOINED = 28
_PAUSE = re.compile(r"[,;:.)]\s")
_DIGIT = re.compile(r"\d")
_SHORTENED = re.compile(r"\w\.\s?$")
_NUMBER_FIRST = re.compile(r"(?<![\w.,/-])(\d{1,3})\s?$")
_PAREN = re.compile(
    r"\(\s?(?:(?:items?|nos?\.?|pos\.?|callouts?|ref\.?)\s)?(" + _CALLOUT_LIST.pattern + r")\s?\)"
)


class Count(NamedTuple):
    """A quantity in a sentence. `callout` stands before it in the form "3-14x"; `doubt` says why unsure."""

    start: int
    end: int
    quantity: Quantity
    callout: str | None = None
    doubt: str = ""


class Parenthesis(NamedTuple):
    """Numbers in brackets: callouts, or (a single one) perhaps a count: the document's habit decides."""

    start: int
    end: int
    numbers: tuple[str, ...]


def read_callouts(text: str) -> tuple[str, ...]:
    """The numbers of a list such as "6, 10, 11, 16-18, 20", spans written out; empty when it is no list."""
    match = _CALLOUT_LIST.fullmatch(text.strip())
    if match is None:
        return ()
    numbers: list[str] = []
    for part in _SPLIT_LIST.split(match.group()):
        span = _SPAN.fullmatch(part)
        if span is None:
            numbers.append(part)
            continue
        low, high = int(span[1]), int(span[2])
        if high <= low or high - low > 60:
            return ()
        numbers.extend(str(number) for number in range(low, high + 1))
    return tuple(numbers)


def parentheses_in(text: str) -> list[Parenthesis]:
    """Every bracket that holds only numbers."""
    if "(" not in text:
        return []
    found = []
    for match in _PAREN.finditer(text):
        numbers = read_callouts(match[1])
        if numbers:
            found.append(Parenthesis(match.start(), match.end(), numbers))
    return found


def counts_in(scan: Scan, language: Lexicon | None = None) -> list[Count]:
    """The quantities of a sentence that carry a mark of their own: "4 x", "Qty 4", "ea. 2", "3-14x", "AR".

    A number that only stands before a noun ("the four screws") is read with the noun: `count_before`.
    """
    lex = language or lexicon()
    text = scan.text
    found: list[Count] = []
    for match in _TIMES.finditer(text):
        number = match[2] or match[3]
        if (
            match[2]
            and _SIZE_BEHIND.match(text, match.end())
            and not re.match(r"\s?M\s?\d", text[match.end() :])
        ):
            continue
        count = int(number)
        doubt = f'"{match.group()}" read as {count} of callout {match[1]}' if match[1] else ""
        quantity = Quantity("exactly", count, count, words=match.group().strip())
        one = Count(match.start(), match.end(), quantity, match[1], doubt)
        found.append(_joined(scan, one, lex))
    for hit in scan.of("quantities"):
        counted = _labelled(text, hit) if hit.key == "labels" else None
        if counted is not None:
            found.append(counted)
        elif hit.key == "as_required" and (
            len(text[hit.start : hit.end]) > 2 or text[hit.start : hit.end].isupper()
        ):
            found.append(Count(hit.start, hit.end, Quantity("as required", words=text[hit.start : hit.end])))
    for hit in scan.of("quantities", "per_side", "per_each"):
        number = count_before(scan, hit.first, lex, reach=2)
        if number is not None and number.quantity.kind == "exactly":
            quantity = number.quantity
            per: Per = "side" if hit.key == "per_side" else "each"
            words = text[number.start : hit.end]
            found.append(
                Count(number.start, hit.end, Quantity(quantity.kind, quantity.low, quantity.high, per, words))
            )
    found.sort(key=lambda count: (count.start, -count.end))
    return [c for i, c in enumerate(found) if i == 0 or c.start >= found[i - 1].end]


def count_before(scan: Scan, token: int, language: Lexicon | None = None, reach: int = 7) -> Count | None:
    """The count in the words before a noun: "the four hex screws", "both nuts", "the remaining two bolts"."""
    lex = language or lexicon()
    text = scan.text
    by_last: dict[int, Hit] = {}
    for number in scan.of("numbers"):
        by_last.setdefault(number.last, number)  # "twenty-one", not its "one"
    by_quantity: dict[int, Hit] = {
        hit.last: hit for hit in scan.of("quantities", "remaining", "all", "at_least", "vague")
    }
    skip = scan.covered("adjectives", "heads", "fasteners")
    position, remaining = token, None
    for _ in range(reach):
        if position <= 0:
            break
        previous = scan.tokens[position - 1]
        after = scan.tokens[position].start if position < len(scan.tokens) else len(text)
        near = max(0, after - _REACH)
        measure = _measure(lex).search(text, near, after) if _DIGIT.search(text, near, after) else None
        if measure is not None:
            position = scan.token_at(measure.start())
            continue
        gap = text[previous.end : after]
        if gap != " " and _PAUSE.search(gap + " ") and not _SHORTENED.search(text[previous.start : after]):
            break
        quantity = _number_at(scan, position, by_last.get(position), lex)
        hit = by_quantity.get(position)
        if quantity is not None:
            begins = by_last[position].first if position in by_last else position - 1
            counted = _counted(scan, (begins, position), quantity, remaining, by_quantity)
            return _joined(scan, counted, lex) if counted.quantity.kind == "exactly" else counted
        if hit is not None and hit.key in ("remaining", "all"):
            remaining = hit
            position = hit.first
            continue
        if hit is not None and hit.key == "vague":
            words = text[hit.start : hit.end]
            return Count(hit.start, hit.end, Quantity("unsaid", words=words))
        if position - 1 in skip or (previous.low.isalpha() and not ends_phrase(previous.low, lex)):
            position -= 1
            continue
        break
    if remaining is not None:
        words = text[remaining.start : remaining.end]
        kind: QuantityKind = "remaining" if remaining.key == "remaining" else "unsaid"
        return Count(remaining.start, remaining.end, Quantity(kind, words=words))
    return None


@lru_cache(maxsize=4)
def _measure(lex: Lexicon) -> re.Pattern[str]:
    """One size right before a noun: "7/16 in. nuts", "25 mm screws"; what it counts stands before it."""
    units = any_of((*lex.words("sizes", "inch"), *lex.words("sizes", "millimetre")))
    number = r"(?:\d{1,2}[\s-])?\d{1,2}/\d{1,2}|\d{0,3}(?:\.\d+)|\d{1,3}"
    return re.compile(rf"(?<![\w.,/-])(?:{number})[\s-]?(?:{units})\s$", re.IGNORECASE)


def ends_phrase(low: str, language: Lexicon) -> bool:
    """Whether a word ends a noun phrase."""
    return language.among(low, "stop") and not language.among(low, "stop", "articles")


def per_in(scan: Scan) -> Per:
    """What the quantity is counted per, when the words say so."""
    return next((per for key, per in _PER if scan.has("quantities", key)), "")


def _number_at(scan: Scan, position: int, hit: Hit | None, lex: Lexicon) -> int | None:
    """The number that ends just before a token position."""
    if hit is not None:
        return lex.numbers[hit.key]
    token = scan.tokens[position - 1]
    if not token.low.isdecimal() or len(token.low) > 3:
        return None
    before = scan.text[max(0, token.start - 2) : token.start]
    if before[-1:] in (".", ",", "-", "/", "–", "#") and before[-1:] and before[-2:-1].isalnum():
        return None
    after = scan.text[token.end : token.end + 2]
    return (
        None if after[:1] in ("/", "-", "–", ".", ",", "%", "°") and after[1:2].isalnum() else int(token.low)
    )


@lru_cache(maxsize=4)
def _before_joined(lex: Lexicon) -> re.Pattern[str]:
    """A number and what joins it to the one behind: "8 + ", "eight or ", "6 to "."""
    words = any_of(word for word in lex.numbers if word != "both")
    joins = {name: any_of(lex.words("joined_counts", name)) for name in ("sum", "span")}
    return re.compile(
        rf"(?<![\w.,/-])(\d{{1,3}}|{words})\s?(?:({joins['sum']})|({joins['span']}))\s?(?:the\s)?$",
        re.IGNORECASE,
    )


def _joined(scan: Scan, count: Count, lex: Lexicon) -> Count:
    """A count with the number that stands before it: "eight or nine" is a range, "8 + 1" no single number."""
    match = _before_joined(lex).search(scan.text, max(0, count.start - _REACH_JOINED), count.start)
    if match is None or count.quantity.low is None:
        return count
    first = int(match[1]) if match[1].isdecimal() else lex.numbers[match[1].lower()]
    words = scan.text[match.start() : count.end].strip()
    doubt = f'"{words}" is no single number of pieces'
    if match[3] and first < count.quantity.low:
        quantity = Quantity("range", first, count.quantity.low, words=words)
        return Count(match.start(), count.end, quantity, None, doubt)
    return Count(match.start(), count.end, Quantity("unsaid", words=words), None, doubt)


def count_in_bracket(inner: str, language: Lexicon) -> Count | None:
    """What a bracket behind a noun says of how many: "(nine)"; a doubt for "(eight left and two right)"."""
    scan = language.scan(inner)
    said = scan.of("numbers")
    if len(said) == 1 and inner.strip().lower() in language.numbers:
        number = language.numbers[said[0].key]
        return Count(0, len(inner), Quantity("exactly", number, number, words=inner.strip()))
    digits = [token for token in scan.tokens if token.low.isdecimal() and len(token.low) < 3]
    worded = any(token.low.isalpha() and token.low not in language.numbers for token in scan.tokens)
    if len({hit.last for hit in said}) + len(digits) < 2 or not worded or sizes_in(inner):
        return None
    if not digits and len(said) < 2:
        return None
    doubt = f'"({inner.strip()})" may say how many: it is no single number'
    return Count(0, len(inner), Quantity("unsaid", words=inner.strip()), None, doubt)


def _counted(
    scan: Scan, at: tuple[int, int], number: int, remaining: Hit | None, quantities: dict[int, Hit]
) -> Count:
    """The count with what stands before it: "at least", "remaining"; `at`: its first token and its end."""
    start = scan.tokens[at[0]].start
    before = quantities.get(at[0])
    end = scan.tokens[at[1] - 1].end
    words = scan.text[start:end]
    for hit in (remaining, before):
        if hit is None or hit.key not in ("remaining", "at_least"):
            continue
        begin, finish = min(start, hit.start), max(end, hit.end)
        words = scan.text[begin:finish]
        if hit.key == "remaining":
            return Count(begin, finish, Quantity("remaining", number, number, words=words))
        return Count(begin, finish, Quantity("at least", number, None, words=words))
    return Count(start, end, Quantity("exactly", number, number, words=words))


def _labelled(text: str, hit: Hit) -> Count | None:
    """ "Qty 4", "ea. 2", or "2 ea.", "4 off", "4 pcs"."""
    behind = _LABEL_FIRST.match(text, hit.end)
    if behind is not None:
        count = int(behind[1])
        return Count(
            hit.start, behind.end(), Quantity("exactly", count, count, words=text[hit.start : behind.end()])
        )
    before = _NUMBER_FIRST.search(text[: hit.start])
    label = text[hit.start : hit.end].lower()
    if before is not None and label not in ("each",):
        count = int(before[1])
        nearby = text[hit.end : hit.end + 1]
        if label == "off" and nearby.isalpha():
            return None
        return Count(
            before.start(), hit.end, Quantity("exactly", count, count, words=text[before.start() : hit.end])
        )
    return None
