"""One joint, no manual: typed lines -> evidence.

    7 x M6x45                     a line of the paper list, all of this joint
    2 x M8x70 far side
    end of list                   the paper list was typed to its end
    by Ann                        who says what follows
    1-7 out, 8 in, 9 not seen     places and what was seen there
    went round                    place by place, both sides, and there is no further place
    tray 7 x M6x45                pieces counted, each from tip to head, over all trays
    left the bench                a break or handover
    holder pump bracket           something else that holds; "holder pump bracket: off" settles it

"7 x M6x45" without a word for it is taken as a screw. Places typed without "went round" by the
same person are taken as glances. The reader of sizes is handed in.
"""

import re
from collections.abc import Callable

from lastbolt.app.gather import Gathered
from lastbolt.app.holder_words import holder_sort
from lastbolt.tally.problems import no_lines, no_places, typed_not_understood
from lastbolt.tally.wording import Beside
from lastbolt.tally.wording_steps import PAPERWORK
from lastbolt.words.answer import HolderState, NextStep
from lastbolt.words.citation import Citation, SaidPlace
from lastbolt.words.evidence import (
    Break,
    Evidence,
    EvidencePlace,
    Line,
    ListRead,
    Look,
    Printed,
    RoundMade,
    TrayCount,
)
from lastbolt.words.joint import Saw
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import Kind, exactly

ReadKind = Callable[[str], Kind | None]

SAW_WORDS: dict[str, Saw] = {
    "out": "out",
    "in": "in",
    "slack": "slack",
    "loose": "slack",
    "broken": "broken off",
    "broken off": "broken off",
    "open": "open hole",
    "open hole": "open hole",
    "empty": "open hole",
    "light": "light through",
    "light through": "light through",
    "rod through": "light through",
    "nothing": "nothing here",
    "nothing here": "nothing here",
    "dowel": "solid dowel",
    "solid dowel": "solid dowel",
    "hollow dowel": "hollow dowel, empty",
    "hollow dowel empty": "hollow dowel, empty",
    "hollow dowel bolt in": "hollow dowel, bolt in",
    "not seen": "cannot see",
    "cannot see": "cannot see",
}
END_OF_LIST = ("end of list", "end of the list", "list complete")
WENT_ROUND = ("went round", "went round, no further place", "round complete")
LEFT = ("left the bench", "break", "handover", "handed over")
COUNTED = re.compile(r"^(?:tray|counted)\s*:?\s*(\d+)\s*(?:x|×|pcs|pieces)?\s+(.+)$", re.I)
FASTENERS = re.compile(r"^(\d+)\s*(?:x|×|pcs|pieces)?\s+(.+)$", re.I)
PLACES = re.compile(r"^(\w+?)(?:\s*(?:-|–|to)\s*(\w+))?\s*:?\s+(.+)$", re.I)
MOST_PLACES, MOST_PIECES = 400, 999
PAPER = "typed list"


def read_typed(text: str, read_kind: ReadKind, joint: str = "typed joint") -> Gathered:
    """The evidence in typed lines; a line that is not understood is a problem, and nothing is guessed."""
    typed = _Typed(read_kind)
    for number, line in enumerate(text.splitlines(), start=1):
        words = line.split("#", 1)[0].strip()
        if words:
            typed.line(number, words)
    return typed.gathered(joint)


class _Typed:
    """Typed lines so far."""

    def __init__(self, read_kind: ReadKind) -> None:
        self.read_kind = read_kind
        self.by = "you"
        self.moment = 0
        self.lines: list[Line] = []
        self.places: dict[str, EvidencePlace] = {}
        self.looks: list[tuple[int, Look]] = []
        self.rounds: list[RoundMade] = []
        self.counts: list[TrayCount] = []
        self.breaks: list[Break] = []
        self.holders: dict[str, HolderState] = {}
        self.people: dict[str, None] = {"you": None}
        self.ended = False
        self.problems: list[Problem] = []

    def line(self, number: int, words: str) -> None:
        """One typed line."""
        self.moment = number
        low = words.lower().rstrip(".")
        if low in END_OF_LIST:
            self.ended = True
        elif low in WENT_ROUND:
            self.rounds.append(RoundMade(self.by, number, f"line {number}"))
        elif low in LEFT:
            self.breaks.append(Break(number, words))
        elif low.startswith("by "):
            self.by = words[3:].strip(" :")
            self.people.setdefault(self.by)
        elif low.startswith("holder "):
            self._holder(words[7:])
        elif not (self._tray(words) or self._seen(words) or self._fasteners(number, words)):
            self.problems.append(typed_not_understood(number, words))

    def _holder(self, words: str) -> None:
        name, _, how = (part.strip() for part in words.partition(":"))
        sort = holder_sort(name)
        told = how or (sort[1] if sort else "not checked")
        state = HolderState(name, sort[0] if sort else "other", name, bool(how), told)
        self.holders[name.lower()] = state

    def _tray(self, words: str) -> bool:
        match = COUNTED.match(words)
        if match is None:
            return False
        kind, count = self.read_kind(match[2]), int(match[1][:6])
        if kind is None or count > MOST_PIECES:
            return False
        self.counts.append(TrayCount(self.by, kind, count, self.moment, event=f"line {self.moment}"))
        return True

    def _seen(self, words: str) -> bool:
        """ "1-7 out, 8 in, 9 far side not seen": all of the line or nothing of it."""
        found: list[tuple[list[str], str, Saw]] = []
        for part in words.split(","):
            match = PLACES.match(part.strip())
            if match is None:
                return False
            far, said = _side(match[3])
            saw = SAW_WORDS.get(said)
            labels = _labels(match[1], match[2])
            if saw is None or not labels:
                return False
            found.append((labels, far, saw))
        for labels, far, saw in found:
            for label in labels:
                if label not in self.places or far:
                    self.places[label] = EvidencePlace(label, label, words=far)
                look = Look(self.by, label, saw, False, self.moment, f"line {self.moment}")
                self.looks.append((self.moment, look))
        return True

    def _fasteners(self, number: int, words: str) -> bool:
        match = FASTENERS.match(words)
        if match is None:
            return False
        kind, count = self.read_kind(match[2]), int(match[1][:6])
        if kind is None or count > MOST_PIECES:
            return False
        citation = Citation(PAPER, SaidPlace(self.by, f"line {number}"), words)
        printed = Printed(exactly(count, words), PAPER, PAPER, PAPER, citation)
        self.lines.append(
            Line(f"line {number}", kind, (printed,), "wholly", PAPER, words=f'"{words}"', citation=citation)
        )
        return True

    def gathered(self, joint: str) -> Gathered:
        """The evidence, and what is missing from it."""
        walked = {round_.by for round_ in self.rounds}
        looks = tuple(
            Look(look.by, look.place, look.saw, look.by in walked, look.moment, look.event)
            for _, look in self.looks
        )
        lists = (ListRead(PAPER, PAPER),) if self.ended and self.lines else ()
        evidence = Evidence(
            joint,
            tuple(self.places.values()),
            tuple(self.lines),
            lists,
            looks=looks,
            rounds=tuple(self.rounds),
            counts=tuple(self.counts),
            breaks=tuple(self.breaks),
            people=tuple((name, "you" if name == "you" else name) for name in self.people),
        )
        if not self.places:
            self.problems.append(no_places(joint))
        if not self.lines:
            self.problems.append(no_lines(joint))
        return Gathered(evidence, self._beside(joint))

    def _beside(self, joint: str) -> Beside:
        steps = []
        if self.lines and not self.ended:
            words = 'Type "end of list" when the paper list was typed to its end.'
            steps.append(NextStep(words, 0.2, PAPERWORK))
        if self.looks and not self.rounds:
            words = 'Go round place by place, both sides; type "went round" when there is no further place.'
            steps.append(NextStep(words, 3.0))
        not_read = (
            "service manual",
            "illustrated parts list",
            "this engine's own file",
            "a record of the job",
        )
        return Beside(
            name=joint,
            next_steps=tuple(steps),
            holders=tuple(self.holders.values()),
            not_read=not_read,
            problems=tuple(self.problems),
        )


def _side(words: str) -> tuple[str, str]:
    """The words without "far side", and whether it stood there."""
    low = " ".join(words.lower().rstrip(".").split())
    for side in ("far side", "near side"):
        if low.startswith(side):
            return (side if side == "far side" else ""), low[len(side) :].strip()
    return "", low


def _labels(first: str, last: str | None) -> list[str]:
    """ "1" to "7" as labels; none when it is no such range or too long."""
    if last is None:
        return [first] if any(sign.isdigit() for sign in first) else []
    if not (first.isdecimal() and last.isdecimal()) or len(last) > 4:
        return []
    low, high = int(first), int(last)
    return [str(n) for n in range(low, high + 1)] if low <= high < low + MOST_PLACES else []
