"""Typed readings, one statement a line, as events of a job; what is not understood is never dropped."""

import re
from collections.abc import Callable
from hashlib import sha256

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.measuring.expansion import REFERENCE_C
from lastbolt.measuring.tools import unit_of
from lastbolt.measuring.typed_asks import PinionAsk, ShimAsk, ValveAsk, pinion_of, shims_of, valve_of
from lastbolt.measuring.typed_limits import limit_stated
from lastbolt.measuring.typed_numbers import NUMBER, numbers_of, plain_numbers
from lastbolt.measuring.typed_words import typed_words, words_pattern
from lastbolt.words.job import Measured, MeasuringEvent, ReadingConfirmed, ZeroChecked
from lastbolt.words.measured import Limit, Reading

YOU = "you"


class NotUnderstood(Struct, frozen=True):
    """A line that says nothing here, and why."""

    line: int
    text: str
    why: str


class Typed(Struct, frozen=True):
    """All that was typed. `lines`: the line of each event, by its id; `by`, `tool`: as at its end."""

    events: tuple[MeasuringEvent, ...] = ()
    limits: tuple[Limit, ...] = ()
    shims: tuple[ShimAsk, ...] = ()
    pinions: tuple[PinionAsk, ...] = ()
    valves: tuple[ValveAsk, ...] = ()
    wrong: tuple[NotUnderstood, ...] = ()
    lines: dict[str, int] = {}
    by: str = ""
    tool: str = ""


def typed_readings(text: str) -> Typed:
    """The statements of a text, in their order."""
    found = _Found()
    lines = [line.partition("#")[0].strip() for line in text.splitlines()]
    struck = _struck(lines)
    for number, line in enumerate(lines, 1):
        if line and number not in struck:
            found.line(number, line)
    return found.typed()


_LINES = re.compile(r"\s*lines?\s+(\d+(?:\s*,\s*\d+)*)\s*", re.I)


def _numbers_behind(line: str, kind: str) -> tuple[int, ...]:
    begun = re.match(rf"(?:{words_pattern(kind)})\b", line, re.I)
    behind = _LINES.fullmatch(line[begun.end() :]) if begun else None
    return tuple(int(one) for one in re.findall(r"\d+", behind[1])) if behind else ()


def _struck(lines: list[str]) -> set[int]:
    return {number for line in lines for number in _numbers_behind(line, "strike")}


class _Found:
    """What stands from line to line (who, tool, warmth, material), and what was found."""

    def __init__(self) -> None:
        self.by, self.tool, self.material = YOU, "", ""
        self.anew: set[str] | None = None
        self.warm: float | None = None
        self.tool_warm: float | None = None
        self.events: list[MeasuringEvent] = []
        self.by_line: dict[int, str] = {}
        self.made = Typed()

    def line(self, number: int, line: str) -> None:
        """One line: the first statement that takes it."""
        takes: tuple[Callable[[int, str], bool], ...] = (
            self._confirm, self._strike, self._set, self._who, self._warmth, self._zero, self._material,
            self._ask, self._difference, self._sizes,
        )  # fmt: skip
        if not any(take(number, line) for take in takes):
            self._wrong(number, line, "no reading and no other statement")

    def typed(self) -> Typed:
        """All of it."""
        lines = {event: line for line, event in self.by_line.items()}
        by = "" if self.by == YOU else self.by
        return replace(self.made, events=tuple(self.events), lines=lines, by=by, tool=self.tool)

    def _wrong(self, number: int, line: str, why: str) -> bool:
        self.made = replace(self.made, wrong=(*self.made.wrong, NotUnderstood(number, line, why)))
        return True

    def _id(self, number: int, line: str) -> str:
        return f"typed-{number}-{sha256(self._state(line).encode()).hexdigest()[:8]}"

    def _state(self, line: str) -> str:
        """What a line means here: the same words with another tool or in another warmth are another event."""
        warm = (self.warm, self.tool_warm, self.material, self.anew is not None)
        return "|".join(map(str, (self.by, self.tool, *warm, line)))

    def _confirm(self, number: int, line: str) -> bool:
        named = _numbers_behind(line, "confirm")
        for one in named:
            if one not in self.by_line:
                return self._wrong(number, line, f"line {one} is no reading before this line")
            self.events.append(
                ReadingConfirmed(id=self._id(number, f"{line} {one}"), by=self.by, reading=self.by_line[one])
            )
        return bool(named)

    def _strike(self, _number: int, line: str) -> bool:
        return bool(_numbers_behind(line, "strike"))

    def _set(self, _number: int, line: str) -> bool:
        if not re.fullmatch(rf"(?:{words_pattern('anew')})\s*[.:]?", line, re.I):
            return False
        self.anew = set()
        return True

    def _who(self, _number: int, line: str) -> bool:
        for kind in ("by", "with"):
            found = re.fullmatch(rf"(?:{words_pattern(kind)})\s+([^:=]+)", line, re.I)
            if found and kind == "by":
                self.by = found[1].strip(" .")
            elif found and not re.match(r"at\b", found[1], re.I):
                self.tool, self.material = found[1].strip(), ""
            if found:
                return bool(kind == "by" or not re.match(r"at\b", found[1], re.I))
        return False

    def _warmth(self, _number: int, line: str) -> bool:
        if re.fullmatch(rf"(?:{words_pattern('room')})", line, re.I):
            self.warm = self.tool_warm = REFERENCE_C
            return True
        degrees = rf"({NUMBER})\s*(?:°|deg\.?)?\s*([CF]?)"
        found = re.fullmatch(
            rf"(?:{words_pattern('warm')})\s+{degrees}(?:\s*,?\s*(?:{words_pattern('tool_warm')})\s+{degrees})?",
            plain_numbers(line), re.I,
        )  # fmt: skip
        if found:
            self.warm = _celsius(found[1], found[2])
            self.tool_warm = _celsius(found[3], found[4]) if found[3] else None
        return bool(found)

    def _zero(self, number: int, line: str) -> bool:
        found = re.fullmatch(
            rf"(?:{words_pattern('zero')})\s+({NUMBER})(?:\s+(?:{words_pattern('on')})\s+({NUMBER}))?\s*(\S*)",
            plain_numbers(line), re.I,
        )  # fmt: skip
        if not found or (found[3] and not unit_of(found[3])):
            return False
        if not self.tool:
            return self._wrong(number, line, "no tool was named before it (with ...)")
        self.events.append(
            ZeroChecked(id=self._id(number, line), by=self.by, tool=self.tool, reads=float(found[1]),
                        on=float(found[2] or 0.0))
        )  # fmt: skip
        return True

    def _material(self, _number: int, line: str) -> bool:
        found = re.fullmatch(rf"(?:{words_pattern('of')})\s+([^\d:=]+)", line, re.I)
        if found:
            self.material = found[1].strip(" .")
        return bool(found)

    def _ask(self, number: int, line: str) -> bool:
        if isinstance(shims := shims_of(line, number), ShimAsk):
            self.made = replace(self.made, shims=(*self.made.shims, shims))
        elif isinstance(pinion := pinion_of(line, number), PinionAsk):
            self.made = replace(self.made, pinions=(*self.made.pinions, pinion))
        elif isinstance(valve := valve_of(line, number), ValveAsk):
            valve = replace(valve, tool=self.tool)
            self.made = replace(self.made, valves=(*self.made.valves, valve))
            lash = (Reading(valve.lash, "1"),)
            what = f"{typed_words()['valve_lash'][0]} {valve.valve}"
            self._keep(
                number, line,
                Measured(id="", by=self.by, what=what, readings=lash, tool=self.tool, unit="mm"),
            )  # fmt: skip
        elif why := next((one for one in (shims, pinion, valve) if isinstance(one, str)), ""):
            self._wrong(number, line, why)
        else:
            return False
        return True

    def _difference(self, number: int, line: str) -> bool:
        found = re.fullmatch(rf"([^:=]+)=(.+?)\s(?:{words_pattern('difference')})\s(.+)", line, re.I)
        if found:
            names = (found[2].strip(), found[3].strip())
            self._keep(number, line, Measured(id="", by=self.by, what=found[1].strip(), difference=names))
        return bool(found)

    def _sizes(self, number: int, line: str) -> bool:
        name, colon, behind = line.partition(":")
        if not colon or not name.strip() or not behind.strip():
            return False
        stated = limit_stated(name.strip(), behind, self.by, number)
        if isinstance(stated, Limit):
            self.made = replace(self.made, limits=(*self.made.limits, stated))
            return True
        numbers = numbers_of(behind)
        if stated or numbers.wrong:
            return self._wrong(number, line, stated or numbers.wrong)
        return self._keep(
            number, line,
            Measured(
                id="", by=self.by, what=name.strip(), readings=numbers.readings, tool=self.tool,
                unit=numbers.unit, temperature_C=self.warm, tool_temperature_C=self.tool_warm,
                material=self.material, less=numbers.less,
            ),
        )  # fmt: skip

    def _keep(self, number: int, line: str, event: Measured) -> bool:
        name = " ".join(event.what.casefold().split())
        anew = self.anew is not None and name not in self.anew
        if self.anew is not None:
            self.anew.add(name)
        made = replace(event, id=self._id(number, line), anew=anew)
        self.by_line[number] = made.id
        self.events.append(made)
        return True


def _celsius(number: str, sign: str) -> float:
    value = float(number)
    return round((value - 32) * 5 / 9, 2) if sign.upper() == "F" else value
