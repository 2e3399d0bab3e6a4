"""Readings in plain words: for the terminal, the printed sheet and the drawing."""

from collections import Counter
from collections.abc import Sequence

from msgspec import Struct

from lastbolt.measuring.sheet import figures_printed, span_words
from lastbolt.words.readings import Decided, Readings, Size, Verdict, figures_of
from lastbolt.words.where import where

TITLES: dict[Verdict, str] = {
    "beyond": "Beyond the limit",
    "too close for this tool": "Too close for this tool: measure again, or better",
    "not decided": "Not decided",
    "worn, within limit": "Worn, within the limit",
    "within": "Within",
}
"""In the order in which they matter."""
SHOWN = 2
COMMON = "common practice, no source"
ONCE = "Read once"


class RowShown(Struct, frozen=True):
    """One size that was measured. `lines`: what to know or do, the questions first."""

    number: str
    name: str
    value: str
    says: Verdict
    title: str
    words: str
    limits: str
    lines: tuple[str, ...]
    tool: str
    where: str


class ToTake(Struct, frozen=True):
    """One line of the sheet to fill in. `boxes`: labels of the places to write a reading at."""

    number: str
    name: str
    standard: str
    limit: str
    how: str
    tools: str
    boxes: tuple[str, ...]
    why: str
    barred: str
    where: str
    taken: str = ""
    verdict: str = ""


def sentence(readings: Readings) -> str:
    """The one sentence that matters."""
    if not readings.sheet and not readings.decided:
        return "No source gives a limit for this: nothing can be decided."
    if not readings.decided:
        return f"{_many(len(readings.sheet), 'size')} to measure."
    counts = {says: sum(one.says == says for one in readings.decided) for says in TITLES}
    parts = [f"{counts['beyond']} beyond the limit"] if counts["beyond"] else []
    undecided = counts["too close for this tool"] + counts["not decided"]
    parts += [f"{undecided} not decided"] if undecided else []
    good = counts["within"] + counts["worn, within limit"]
    worn = f" ({counts['worn, within limit']} worn)" if counts["worn, within limit"] else ""
    parts += [f"{good} within{worn}"] if good else []
    parts += [f"{len(readings.open)} not measured yet"] if readings.open else []
    said = f"Of {_many(len(readings.decided) + len(readings.open), 'size')}: {', '.join(parts)}"
    if not readings.open and not undecided and not counts["beyond"]:
        many = len(readings.decided)
        said = (
            f"All {many} sizes measured are within their limits{worn}"
            if many > 1
            else f"Within its limit{worn}"
        )
    return f"{said}."


def rows_shown(readings: Readings) -> tuple[RowShown, ...]:
    """Every size that was measured, what matters most first."""
    order = list(TITLES)
    sizes = {one.limit: one for one in readings.sheet}
    ranked = sorted(
        (one for one in readings.decided if one.says), key=lambda one: order.index(one.says or "within")
    )
    shared = {words for words, _ in of_several(readings)}
    return tuple(_row(one, sizes.get(one.limit), shared) for one in ranked)


def of_several(readings: Readings) -> tuple[tuple[str, str], ...]:
    """What holds of several sizes alike, a tool's calibration for one, and of which: told once."""
    counts = Counter(words for one in readings.decided for words in dict.fromkeys(one.told))
    found = [words for words, many in counts.items() if many > 1 and not words.startswith(ONCE)]
    return tuple((words, ", ".join(_numbers(words, readings))) for words in found)


def _numbers(words: str, readings: Readings) -> list[str]:
    return list(dict.fromkeys(str(one.number or one.what) for one in readings.decided if words in one.told))


def _row(one: Decided, size: Size | None, shared: set[str]) -> RowShown:
    says: Verdict = one.says or "not decided"
    lines = [*(f"? {question}" for question in one.questions)]
    if says == "beyond" and size is not None and size.decides:
        told = where(size.then_citations[0]) if size.then_citations else COMMON
        lines.append(f"What then: {size.decides} [{told}]")
    close = says == "too close for this tool"
    own = (words for words in one.told if words not in shared and (close or not words.startswith(ONCE)))
    lines += [*(f"? {ask}" for ask in one.asked), *own]
    if one.beside:
        lines.append(f"{', '.join(one.beside)}.")
    if one.probability is not None and close:
        lines.append(f"Within its limit with a probability of {one.probability:.0%}.")
    return RowShown(
        str(one.number or "-"), named(one), value_words(one), says, TITLES[says], one.words, limit_words(one),
        tuple(lines), _read_with(one),
        where(one.citations[0]) if one.citations else "",
    )  # fmt: skip


def _read_with(one: Decided) -> str:
    by = f" by {', '.join(one.readers)}" if one.readers else ""
    return f"Read with {one.tool}{by}." if one.tool else f"Worked out{by.replace(' by', ', read by')}."


def named(one: Decided) -> str:
    """The size, and which one of several alike."""
    return f"{one.what}, {one.of}" if one.of else one.what


def value_words(one: Decided) -> str:
    """The value with its expanded uncertainty, both to the same figure.

    >>> value_words(Decided("x", 72.00181, "mm", uncertainty=0.0027, k=2.0))
    '72.002 ± 0.005 mm'
    """
    spread = one.k * one.uncertainty if one.uncertainty else 0.0
    figures = figures_of(spread, one.unit)
    more = f" ± {spread:.{figures}f}" if spread else ""
    return f"{one.value:.{figures}f}{more} {one.unit}"


def limit_words(one: Decided | Size) -> str:
    """Standard and limit in one line."""
    figures = figures_printed(one.standard, one.service)
    parts = [f"standard {span_words(one.standard, figures)}"] if one.standard else []
    parts += [f"limit {span_words(one.service, figures)}"] if one.service else []
    said = ", ".join(parts)
    return f"{said[:1].upper()}{said[1:]}"


def to_take(readings: Readings) -> tuple[ToTake, ...]:
    """Every line of the sheet, with what was already read."""
    read: dict[str, list[Decided]] = {}
    for one in readings.decided:
        read.setdefault(one.limit, []).append(one)
    return tuple(_to_take(size, read.get(size.limit, [])) for size in readings.sheet)


def _to_take(size: Size, read: Sequence[Decided]) -> ToTake:
    taken = "; ".join(f"{one.of}: {value_words(one)}" if one.of else value_words(one) for one in read)
    figures = figures_printed(size.standard, size.service)
    return ToTake(
        str(size.number), size.what, span_words(size.standard, figures), span_words(size.service, figures),
        f"{size.how} [{where(size.how_citations[0])}]" if size.how_citations else size.how,
        "; ".join(size.at_hand[:SHOWN]) or ", ".join(size.tools), _boxes(size), size.why, size.barred,
        where(size.citations[0]) if size.citations else "", taken,
        "; ".join(dict.fromkeys(one.says for one in read if one.says)),
    )  # fmt: skip


def _boxes(size: Size) -> tuple[str, ...]:
    """Where to write: of a bore by height and axis, else by number."""
    if size.dimension == "bore" and size.readings == 6:
        return ("top along", "across", "middle along", "across", "bottom along", "across")
    return tuple(str(number) for number in range(1, size.readings + 1))


def _many(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
