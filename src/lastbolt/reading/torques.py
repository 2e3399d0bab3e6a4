"""Tightening torques as printed: every unit, ranges, tolerances, angles and stages."""

import re
from functools import lru_cache
from itertools import product
from typing import Literal, NamedTuple

import msgspec

from lastbolt.reading.lexicon import Lexicon, lexicon
from lastbolt.reading.numbers import any_of
from lastbolt.reading.torque_values import QUICK, Reading, readings_in
from lastbolt.reading.units import Printed, newton_metres, torque_unit, units_agree
from lastbolt.words.machine import TorqueLimit, TorqueValue

_CELL = re.compile(
    r"[\d\s.,/+±()%½¼¾−–…-]*(?:(?:to|thru|through|max\.?|min\.?)[\d\s.,/+±()%−–-]*)*", re.IGNORECASE
)
_BETWEEN = re.compile(r"\s?(?:[(\[/,;=|]|\)\s?\(|\]\s?\[|or)?\s?[(\[]?\s?")
_ANGLE = re.compile(r"(?P<deg>\d{1,3})\s?(?:°|deg(?:rees?)?\b\.?)|(?P<fraction>\d/\d)\s?(?:of a\s)?turn\b")
_STAGE = re.compile(
    r"(?:(?P<word>stage|step|pass|round)\s?(?P<after>\d)|(?P<before>[1-9](?:st|nd|rd|th)|first|second|third|fourth|final)\s(?:stage|pass|round|step)?)\s?[:,–-]?\s?(?:to\s|at\s)?$",
    re.IGNORECASE,
)
_BOUND_BEHIND = re.compile(r"(?<=\d)\s(?:max|min)(?:\.|imum)?$", re.IGNORECASE)
_DIGIT = re.compile(r"\d")
_UP_TO = re.compile(r"\s?(?:to|thru|through|up to|[-–—…])\s?(?:max(?:\.|imum)?\s)?", re.IGNORECASE)


class Torque(NamedTuple):
    """A torque in a text; `agree` says whether its printed units are one value within their rounding.

    `doubt` says why it may be read wrongly; with no `value.torque_Nm` it was not understood at all.
    """

    start: int
    end: int
    value: TorqueValue
    agree: Literal["yes", "no", "unknown"]
    doubt: str = ""


class _One(NamedTuple):
    """One torque as it stands: its values in each unit, settled; with no values it was not understood."""

    start: int
    end: int
    values: tuple[tuple[Printed, ...], ...]
    doubt: str


def torques_in(text: str, language: Lexicon | None = None) -> list[Torque]:
    """Every torque in the text: values in several units side by side are one torque, stages are several."""
    if not QUICK.search(text):
        return []
    lex = language or lexicon()
    groups = _groups(text, readings_in(text, lex))
    found: list[Torque] = []
    for position, group in enumerate(groups):
        limit = groups[position + 1][0].start if position + 1 < len(groups) else len(text)
        one = _settled(group)
        new = _torques_of(text, one, limit, lex) if one.values else [_not_understood(text, one)]
        before = found[-1].value.stage if found else ""
        if len(new) == 1 and not new[0].value.stage and before.isdigit() and one.values:
            value = msgspec.structs.replace(new[0].value, stage=str(int(before) + 1))
            new = [new[0]._replace(value=value)]
        found.extend(new)
    return found


def read_torque(cell: str, unit: str | None = None, language: Lexicon | None = None) -> Torque | None:
    """The torque of a table cell; `unit` is the column's unit where the cell prints a bare number."""
    found = torques_in(cell, language)
    if len(found) > 1:
        return found[0]._replace(doubt=f"it holds {len(found)} torques; only the first is kept")
    if found:
        return found[0]
    bare = cell.strip()
    if unit is None or torque_unit(unit) is None or not _CELL.fullmatch(bare) or not _DIGIT.search(bare):
        return None
    bound = _BOUND_BEHIND.search(bare)
    if bound is not None:
        bare, unit = bare[: bound.start()], f"{unit}{bound[0]}"
    return read_torque(f"{bare} {unit}", language=language)


def _groups(text: str, readings: list[Reading]) -> list[list[Reading]]:
    """The readings of one torque together: units side by side, or "20 Nm to 25 Nm"."""
    groups: list[list[Reading]] = []
    for reading in readings:
        last = groups[-1][-1] if groups else None
        if last is not None and last.options and reading.options:
            upper = _as_range(text, last, reading)
            if upper is not None:
                groups[-1][-1] = upper
                continue
            units = {option[0].unit for one in groups[-1] for option in one.options}
            beside = _BETWEEN.fullmatch(text, last.end, reading.start) is not None
            same = len(reading.options[0]) == len(last.options[0])
            if beside and same and reading.options[0][0].unit not in units:
                groups[-1].append(reading)
                continue
        groups.append([reading])
    return groups


def _as_range(text: str, low: Reading, high: Reading) -> Reading | None:
    """ "20 Nm to 25 Nm" as one value."""
    if not _UP_TO.fullmatch(text, low.end, high.start) or len(low.options) != 1 or len(high.options) != 1:
        return None
    bottom, top = low.options[0], high.options[0]
    if len(bottom) != 1 or len(top) != 1 or bottom[0].unit != top[0].unit:
        return None
    if not bottom[0].high < top[0].low:
        return None
    joined = bottom[0]._replace(high=top[0].high)
    return Reading(low.start, high.end, ((joined,),), low.doubt or high.doubt)


def _settled(group: list[Reading]) -> _One:
    """The one way to read a torque; of a number that can be read twice the other unit decides."""
    start, end = group[0].start, group[-1].end
    doubt = "; ".join(dict.fromkeys(reading.doubt for reading in group if reading.doubt))
    ways = list(product(*(reading.options for reading in group)))
    if len(ways) > 1:
        stages = range(len(ways[0][0]))
        agreeing = [w for w in ways if all(units_agree(tuple(v[i] for v in w)) == "yes" for i in stages)]
        if len(agreeing) != 1:
            said = " or ".join(dict.fromkeys(f"{w[0][0].high:g} {w[0][0].unit}" for w in ways))
            return _One(start, end, (), f"it can be {said}: the book's decimal sign cannot be told here")
        ways = agreeing
    return _One(start, end, ways[0] if ways else (), doubt)


def _not_understood(text: str, one: _One) -> Torque:
    words = text[one.start : one.end].rstrip(". ")
    return Torque(one.start, one.end, TorqueValue(None, (), words=words), "unknown", one.doubt)


def _torques_of(text: str, one: _One, limit: int, lex: Lexicon) -> list[Torque]:
    start, end = one.start, one.end
    if text[end : end + 1] in (")", "]"):
        end += 1
    said, end, limit_said = _bounded(text, start, end, lex)
    count = len(one.values[0])
    angle, angle_end = _angle_after(text, end, limit, lex)
    end = max(end, angle_end)
    found: list[Torque] = []
    for index in range(count):
        printed = tuple(values[index] for values in one.values)
        stage = str(index + 1) if count > 1 else _stage_before(text, start, lex)
        low, high = (newton_metres(v, printed[0].unit) for v in printed[0][:2])
        value = TorqueValue(
            torque_Nm=(round(low, 4), round(high, 4)),
            printed=tuple((p.low, p.high, p.unit) for p in printed),
            angle_deg=angle if index == count - 1 else None,
            stage=stage,
            words=_words(text[said:end]),
            limit=limit_said if low == high else "",
        )
        found.append(Torque(start, end, value, units_agree(printed), one.doubt))
    return found


def _words(said: str) -> str:
    said = said.rstrip(". ")
    return said.rstrip(")") if said.count(")") > said.count("(") else said


def _bounded(text: str, start: int, end: int, lex: Lexicon) -> tuple[int, int, TorqueLimit]:
    """Where the words of a torque begin and end with "max." or "about" beside it, and the limit they say.

    Of several ways to read the words before it the longest holds: "not less than" is no "less than".
    """
    head = text[:start]
    behind = [
        (m.end(), b.limit) for b in _bounds(lex) if b.after is not None and (m := b.after.match(text, end))
    ]
    end, limit = max(behind, key=lambda one: one[0], default=(end, ""))
    before = [(m.start(), bound) for bound in _bounds(lex) if (m := bound.before.search(head))]
    if not before:
        return start, end, limit
    begin, bound = min(before, key=lambda one: one[0])
    refusal = _refused(head[:begin], lex) if bound.refused is not None else None
    if refusal is not None and bound.refused is not None:
        return refusal, end, bound.refused
    return begin, end, bound.limit or limit


def _refused(head: str, lex: Lexicon) -> int | None:
    """Where a clause says "not" before "more than" or "less than"; None where it does not."""
    clause = re.search(r"[^.;:,()]*$", head)
    no = re.compile(rf"(?<!\w)(?:{any_of(lex.words('torque', 'refusing'))})(?!\w)", re.IGNORECASE)
    match = no.search(head, clause.start() if clause is not None else 0)
    return match.start() if match is not None else None


class _Bound(NamedTuple):
    """Words beside a torque and the limit they say; `refused` the limit they say behind a "not"."""

    limit: TorqueLimit
    before: re.Pattern[str]
    after: re.Pattern[str] | None
    refused: TorqueLimit | None = None


@lru_cache(maxsize=4)
def _bounds(lex: Lexicon) -> tuple[_Bound, ...]:
    between = any_of(lex.words("torque", "behind_limit"))

    def bound(key: str, limit: TorqueLimit, refused: TorqueLimit | None = None) -> _Bound:
        words = any_of(lex.words("torque", key))
        before = re.compile(rf"(?<!\w)(?:{words})(?:\s(?:{between}))*\s?[:=]?\s?$", re.IGNORECASE)
        behind = rf"\.?\s?[,(]?\s?(?:{words})(?!\w)(?!\s?\d)\)?"
        after = None if refused is not None else re.compile(behind, re.IGNORECASE)
        return _Bound(limit, before, after, refused)

    return (
        bound("at_most", "at most"),
        bound("at_least", "at least"),
        bound("about", ""),
        bound("over", "at least", "at most"),
        bound("under", "at most", "at least"),
    )


def _angle_after(text: str, end: int, limit: int, lex: Lexicon) -> tuple[float | None, int]:
    """The further turn that follows a torque: "+ 90°", "then a further 1/4 turn"."""
    window = text[end : min(limit, end + 48)]
    match = _ANGLE.search(window)
    if match is None:
        return None, end
    lead = window[: match.start()].strip(" ,;(").lower()
    if (
        lead
        and lead not in lex.words("torque", "plus")
        and not any(word in lead.split() for word in ("turn", "further", "another", "+", "plus"))
    ):
        return None, end
    if match["deg"]:
        return float(match["deg"]), end + match.end()
    top, bottom = match["fraction"].split("/")
    return round(360.0 * int(top) / int(bottom), 1) if int(bottom) else None, end + match.end()


def _stage_before(text: str, start: int, lex: Lexicon) -> str:
    """The number of the stage that is named just before a torque."""
    match = _STAGE.search(text[max(0, start - 32) : start])
    if match is None:
        return ""
    if match["after"]:
        return match["after"]
    ordinal = match["before"].lower()
    number = lex.data["ordinals"].get(ordinal)
    return "final" if ordinal == "final" else str(number or ordinal)
