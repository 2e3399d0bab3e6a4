"""Tightening torques as printed: every unit, ranges, tolerances, angles and stages."""

import re
from functools import lru_cache
from itertools import pairwise, product
from typing import Literal, NamedTuple

import msgspec

from lastbolt.reading.lexicon import Lexicon, lexicon
from lastbolt.reading.numbers import any_of
from lastbolt.reading.torque_beside import by_and_by, either_of, loosened, turn_in_words
from lastbolt.reading.torque_context import each_its_own, let_go, torque_words
from lastbolt.reading.torque_patterns import may_hold_torque
from lastbolt.reading.torque_turns import Turns, stage_before, turns_after, turns_alone
from lastbolt.reading.torque_values import Reading, readings_in
from lastbolt.reading.units import Printed, newton_metres, torque_unit, units_agree
from lastbolt.words.machine import TorqueLimit, TorqueValue

_CELL = re.compile(
    r"[\d\s.,/+±()%½¼¾−–…-]*(?:(?:to|thru|through|max\.?|min\.?)[\d\s.,/+±()%−–-]*)*", re.IGNORECASE
)
_BETWEEN = re.compile(r"\s?(?:[(\[/,;=|]|\)\s?\(|\]\s?\[|or)?\s?[(\[]?\s?")
_BOUND_BEHIND = re.compile(r"(?<=\d)\s(?:max|min)(?:\.|imum)?$", re.IGNORECASE)
_DIGIT = re.compile(r"\d")
_SIGN = re.compile(r"\s?[-−–—+]\s?")
_UP_TO = re.compile(r"\s?(?:to|thru|through|up to|[-–—…])\s?(?:max(?:\.|imum)?\s)?", re.IGNORECASE)

_LARGEST_NM = 5000.0


class Torque(NamedTuple):
    """A torque in a text; `agree` says whether its printed units are one value within their rounding.

    `doubt` says why it may be read wrongly; with no `value.torque_Nm` it was not understood at all, or it is
    a turn alone (`value.angle_deg`).
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
    if not may_hold_torque(text):
        return []
    lex = language or lexicon()
    scales = [match.span() for match in torque_words().scale.finditer(text)]
    readings = [one for one in readings_in(text, lex) if not any(a <= one.start < b for a, b in scales)]
    groups = _groups(text, readings)
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
    found += [
        Torque(start, end, TorqueValue(None, (), size, stage, text[start:end]), "unknown")
        for start, end, size, stage in (turns_alone(text, lex) if found else ())
        if not any(one.start <= start < one.end for one in found)
    ]
    found = _let_go_between(text, sorted(found, key=lambda one: one.start))
    found = [_beside(text, one, after) for one, after in zip(found, [*found[1:], None], strict=False)]
    found = _either(text, found)
    own = each_its_own(text, found[-1].end) if len(found) > 1 else ""
    return [_doubted(one, f'each goes to a thing of its own ("{own}")') for one in found] if own else found


def _let_go_between(text: str, found: list[Torque]) -> list[Torque]:
    """Torques with "slacken" between them as stages, with a doubt that says so."""
    told = list(found)
    for index, (one, after) in enumerate(pairwise(found)):
        back = let_go(text, one.end, after.start)
        if not back or one.value.torque_Nm is None or after.value.torque_Nm is None:
            continue
        doubt = f'"{back}" stands between it and the other torque'
        first = told[index]
        stage = first.value.stage or "1"
        following = after.value.stage or (str(int(stage) + 1) if stage.isdigit() else "")
        told[index] = _with_stage(first, stage, doubt)
        told[index + 1] = _with_stage(after, following, doubt)
    return told


def _beside(text: str, torque: Torque, after: Torque | None) -> Torque:
    """The torque, and no number told where what stands beside it makes it another one."""
    if torque.value.torque_Nm is None:
        return torque
    limit = after.start if after is not None else len(text)
    turn = turn_in_words(text, torque.end, limit) if torque.value.angle_deg is None else ""
    loose = loosened(text, torque.start)
    if by_and_by(text, torque.start):
        loose = "so much at a time"
    why = f'the turn behind it ("{turn}") is not read' if turn else loose and f'"{loose}" stands before it'
    if why:
        return torque._replace(value=TorqueValue(None, (), words=torque.value.words), doubt=why)
    unit = torque.value.printed[0][2] if torque.value.printed else ""
    large = torque.value.torque_Nm[1] > _LARGEST_NM
    return (
        _doubted(torque, f'"{unit}" makes it so large that the unit may be a misprint') if large else torque
    )


def _either(text: str, found: list[Torque]) -> list[Torque]:
    """Two torques of equal standing, of which only one can hold, each with a doubt."""
    told = list(found)
    for index, (one, after) in enumerate(pairwise(found)):
        words = either_of(text, one.end, after.start)
        unread = after.value.torque_Nm is None and after.value.angle_deg is None
        if words and one.value.torque_Nm is not None and (unread or after.value.torque_Nm is not None):
            for at in (index,) if unread else (index, index + 1):
                told[at] = _doubted(told[at], f'"{words}" stands beside it: another torque may hold')
    return told


def _with_stage(torque: Torque, stage: str, doubt: str) -> Torque:
    return _doubted(torque._replace(value=msgspec.structs.replace(torque.value, stage=stage)), doubt)


def _doubted(torque: Torque, doubt: str) -> Torque:
    return torque._replace(doubt="; ".join(filter(None, (torque.doubt, doubt))))


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
        if last is not None and _reckoned(text, last, reading):
            groups[-1] = [
                Reading(groups[-1][0].start, reading.end, (), "it is reckoned from several torques")
            ]
            continue
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


def _reckoned(text: str, one: Reading, other: Reading) -> bool:
    """Whether two torques are added, or taken from each other, or three follow each other with dashes."""
    sign = _SIGN.fullmatch(text, one.end, other.start) or _SIGN.match(text, other.start, other.end)
    if sign is None or not one.options:
        return False
    ranged = one.options[0][0].low != one.options[0][0].high
    return "+" in sign[0] or ranged or _as_range(text, one, other) is None


def _as_range(text: str, low: Reading, high: Reading) -> Reading | None:
    """ "20 Nm to 25 Nm" as one value."""
    if not _UP_TO.fullmatch(text, low.end, high.start) or len(low.options) != 1 or len(high.options) != 1:
        return None
    if by_and_by(text, low.start):
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
    words = text[one.start : one.end].strip(". ")
    return Torque(one.start, one.end, TorqueValue(None, (), words=words), "unknown", one.doubt)


def _torques_of(text: str, one: _One, limit: int, lex: Lexicon) -> list[Torque]:
    start, end = one.start, one.end
    if text[end : end + 1] in (")", "]"):
        end += 1
    said, end, limit_said = _bounded(text, start, end, lex)
    count = len(one.values[0])
    turns = turns_after(text, end, limit, lex)
    if turns.doubt:
        words = _words(text[said : max(end, turns.end)])
        return [
            Torque(start, max(end, turns.end), TorqueValue(None, (), words=words), "unknown", turns.doubt)
        ]
    end = turns.angles[0][2] if turns.angles else end
    found: list[Torque] = []
    for index in range(count):
        printed = tuple(values[index] for values in one.values)
        stage = str(index + 1) if count > 1 else stage_before(text[:start], lex)
        low, high = (newton_metres(v, printed[0].unit) for v in printed[0][:2])
        value = TorqueValue(
            torque_Nm=(round(low, 4), round(high, 4)),
            printed=tuple((p.low, p.high, p.unit) for p in printed),
            angle_deg=turns.angles[0][0] if turns.angles and index == count - 1 else None,
            stage=stage,
            words=_words(text[said:end]),
            limit=limit_said if low == high else "",
        )
        found.append(Torque(start, end, value, units_agree(printed), one.doubt))
    return _with_more_turns(text, found, turns)


def _with_more_turns(text: str, found: list[Torque], turns: Turns) -> list[Torque]:
    """The torques with one more stage for each turn behind the first."""
    if len(turns.angles) < 2:
        return found
    last = found[-1]
    stage = last.value.stage or "1"
    told = [*found[:-1], last._replace(value=msgspec.structs.replace(last.value, stage=stage))]
    for more, (size, start, end) in enumerate(turns.angles[1:], start=1):
        number = str(int(stage) + more) if stage.isdigit() else stage
        told.append(Torque(start, end, TorqueValue(None, (), size, number, text[start:end]), "unknown"))
    return told


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
