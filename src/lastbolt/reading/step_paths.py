"""Where a marked step stands among the steps above it: its path ("5", "5a", "5a1"), by marks and indents."""

from dataclasses import dataclass

from lastbolt.reading.marks import Mark, mark_value
from lastbolt.reading.piece import INDENT

_DEEPEST_INDENT = 0.15
"""A step under another is indented by less than this; what stands further right is another column."""


@dataclass
class _Level:
    kind: str
    value: int
    left: float
    said: str


class StepPaths:
    """The levels of steps that are open in a section."""

    def __init__(self) -> None:
        self._levels: list[_Level] = []

    def of(self, mark: Mark, left: float) -> str:
        """The path of a step with this mark, which begins there."""
        kind = mark.kind if mark.kind != "bullet" else f"bullet {mark.value}"
        value = mark_value(mark.value)
        depth = self._depth(kind, value, left)
        known = self._levels[depth] if depth < len(self._levels) else None
        del self._levels[depth:]
        above = "".join(level.said for level in self._levels)
        if mark.kind == "bullet":
            value = known.value + 1 if known is not None else 1
            said = f".{value}" if depth else str(value)
        else:
            said = below(mark.value, above)
            if said == mark.value and _repeats(said, above):
                said = said[len(above) :]
            if above and said[0].isdigit() and above[-1:].isdigit():
                said = f".{said}"
        self._levels.append(_Level(kind, value, left, said))
        return above + said

    def _depth(self, kind: str, value: int, left: float) -> int:
        """How many levels stand above a step: that of the run it goes on with, else a new one."""
        alike = [at for at, level in enumerate(self._levels) if level.kind == kind]
        if not alike:
            return len(self._levels)
        following = [at for at in alike if self._levels[at].value + 1 == value]
        if kind.startswith("bullet"):
            following = alike
        if following:
            return min(following, key=lambda at: abs(self._levels[at].left - left))
        indent = left - self._levels[-1].left
        if value == 1 and alike[-1] < len(self._levels) - 1 and INDENT < indent < _DEEPEST_INDENT:
            return len(self._levels)  # "(a)" under "(1)" under "(a)"
        return alike[0]


def _repeats(mark: str, above: str) -> bool:
    """Whether a mark says again what it stands under: the "E1" under "E", the "2b" under "2"."""
    rest = mark[len(above) :]
    return (
        bool(above and rest)
        and mark.upper().startswith(above.upper())
        and rest.isalnum()
        and above[-1].isdigit() != rest[0].isdigit()
    )


def below(mark: str, number: str) -> str:
    """What a mark says below a number: the 3 of "4.1.3" in section 4.1."""
    alike = str.maketrans(".–", "--")
    under = f"{number}-".translate(alike)
    return mark[len(under) :] if number and mark.translate(alike).startswith(under) else mark
