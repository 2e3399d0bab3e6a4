"""The turns behind a torque: "+ 90°", "then a further 60° and 60°"; and stages that are a turn alone."""

import re
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.numbers import any_of
from lastbolt.reading.torque_context import let_go, torque_language, torque_words
from lastbolt.reading.torque_patterns import spaced

_TOLERANCE = re.compile(r"\s?\(?\s?(?:±|\+/?[-−])\s?\d{1,2}\s?[°º⁰]?\s?\)?")
_NEW_SENTENCE = re.compile(r"\.\s+(?=[A-Z])")
_CELSIUS = re.compile(r"\s?[CF]\b")
_VULGAR = {"½": 180.0, "¼": 90.0, "¾": 270.0}
_SENTENCE = re.compile(r"[.;]\s")


class _Patterns(NamedTuple):
    angle: re.Pattern[str]
    of_range: re.Pattern[str]
    range_behind: re.Pattern[str]
    stage: re.Pattern[str]


@lru_cache(maxsize=1)
def _patterns() -> _Patterns:
    """The patterns with the words of the language file."""
    turns, stages = torque_language()["turns"], torque_language()["stages"]
    turn = rf"\s?(?:(?:{spaced(turns['of'])})\s)?(?:{any_of(turns['turn'])})\b"
    named, to = any_of(stages["named"]), any_of(turns["range"])
    before = rf"[1-9](?:{any_of(stages['endings'])})|{any_of(stages['ordinals'])}"
    return _Patterns(
        re.compile(
            rf"(?<![\w.,/])(?:(?P<deg>\d{{1,3}})\s?(?:[°º⁰]|(?:{any_of(turns['degree'])})\b\.?)"
            rf"|(?P<fraction>\d\s?[/⁄]\s?\d){turn}|(?P<vulgar>[½¼¾]){turn})",
            re.IGNORECASE,
        ),
        re.compile(rf"\d\s?[°º⁰]?\s?(?:[-–—/±…]|{to})\s?$", re.IGNORECASE),
        re.compile(rf"\s?(?:[-–—…]\s?\d|(?:{to})\s\d{{1,3}}\s?[°º⁰])", re.IGNORECASE),
        re.compile(
            rf"(?:(?P<word>{named})\s?(?P<after>\d)|(?P<before>{before})\s(?:{named})?)"
            rf"\s?[:,–-]?\s?(?:(?:{any_of(stages['leading'])})\s)?$",
            re.IGNORECASE,
        ),
    )


class Turns(NamedTuple):
    """The turns behind a torque, in degrees, and where they end; `doubt`: why they are not understood."""

    angles: tuple[tuple[float, int, int], ...]
    """Each with where its words begin and end."""
    end: int
    doubt: str = ""


def turns_after(text: str, end: int, limit: int, lex: Lexicon) -> Turns:
    """The further turns that follow a torque before the next one begins at `limit`."""
    found: list[tuple[float, int, int]] = []
    at = end
    while (match := _patterns().angle.search(text, at, min(limit, at + 48))) is not None:
        gap = text[at : match.start()]
        if _CELSIUS.match(text, match.end()):
            break
        parted = _NEW_SENTENCE.match(text, at - 1)
        back = let_go(text, at, match.start()) or let_go(text, match.end(), match.end() + 16)
        if back and parted is not None and not _bare(text[parted.end() : match.start()], back):
            break
        if back:
            behind = " ".join(text[end : match.end()].split())
            return Turns((), match.end(), f'it is let go again behind it ("{behind.strip(" ,;.()")}")')
        if not _leads(gap, lex):
            break
        size = degrees(match)
        if (
            size is None
            or _patterns().of_range.search(gap)
            or _patterns().range_behind.match(text, match.end())
        ):
            said = " ".join(text[match.start() : match.end() + 8].split())
            return Turns(tuple(found), match.end(), f'the turn behind it ("{said}") is not one angle')
        tolerance = _TOLERANCE.match(text, match.end())
        at = tolerance.end() if tolerance is not None else match.end()
        found.append((size, match.start(), at))
    return Turns(tuple(found), at if found else end)


def _bare(gap: str, back: str) -> bool:
    """Whether a sentence undoes what was just tightened, with no other thing named: "Turn back 30°"."""
    rest = gap.strip().lower().removeprefix(back.lower()).split()
    return gap.strip().lower().startswith(back.lower()) and all(w in torque_words().lead for w in rest)


def turns_alone(text: str, lex: Lexicon) -> list[tuple[int, int, float, str]]:
    """Stages that are a turn and no torque ("stage 3: 90°"): start, end, degrees and the stage's number."""
    found = []
    for match in _patterns().angle.finditer(text):
        words = text[max(0, match.start() - 48) : match.start()].split()
        while words and words[-1].strip(",:").lower() in torque_words().turning:
            words.pop()
        stage = stage_before(" ".join(words), lex)
        size = degrees(match)
        if stage and size is not None and not _CELSIUS.match(text, match.end()):
            found.append((match.start(), match.end(), size, stage))
    return found


def stage_before(head: str, lex: Lexicon) -> str:
    """The number of the stage that is named at the end of the words before a torque or a turn."""
    match = _patterns().stage.search(head[-32:]) or _patterns().stage.search(f"{head[-31:]} ")
    if match is None:
        return ""
    if match["after"]:
        return match["after"]
    ordinal = match["before"].lower()
    number = lex.data["ordinals"].get(ordinal)
    return "final" if ordinal == "final" else str(number or ordinal)


def degrees(match: "re.Match[str]") -> float | None:
    """The angle of a printed turn in degrees; None for no fraction."""
    if match["deg"]:
        return float(match["deg"])
    if match["vulgar"]:
        return _VULGAR[match["vulgar"]]
    top, bottom = re.split(r"\s?[/⁄]\s?", match["fraction"])
    return round(360.0 * int(top) / int(bottom), 1) if int(bottom) else None


def _leads(gap: str, lex: Lexicon) -> bool:
    """Whether the words between a torque and an angle say that the angle is turned after it."""
    lead = gap.strip(" ,;:()").lower()
    if _SENTENCE.search(gap) and not lead.startswith(tuple(torque_language()["turns"]["opening"])):
        return False
    words = re.findall(r"[^\W\d]+|[+]|\d+", lead)
    if not lead or lead in lex.words("torque", "plus"):
        return True
    if any(word in words for word in torque_language()["turns"]["sure"]):
        return True
    return bool(words) and all(word in torque_words().lead for word in words)
