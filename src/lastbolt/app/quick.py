"""Typed lines -> evidence: one joint without a manual, or what was seen beside the documents.

    7 x M6x45                     a line of the paper list, all of this joint
    2 x M8x70 far side
    end of list                   the paper list was typed to its end
    list compared                 somebody held the typed list against the paper, row by row, to its end
    by Ann                        who says what follows
    1-7 out, 8 in, 9 not seen     places and what was seen there
    9 open hole both sides        a look on purpose, worth as much as going round, at this place
    3 taken out                   done just now
    went round                    place by place, both sides, and there is no further place
    tray 7 x M6x45                pieces counted, each from tip to head, over all trays
    left the bench                a break or handover
    holder pump bracket           something else that holds; "holder pump bracket: off" settles it
    no other holders              somebody looked for them, and there are no others
    figure 7 item 3 here          beside a read parts list: that row is all of this joint
    strike line 4                 line 4 was a slip

"7 x M6x45" without a word for it is taken as a screw. What a line says that was not understood is kept as
unused: with it nothing is called free. The reader of sizes is handed in.
"""

import re
from collections.abc import Callable, Collection

from msgspec.structs import replace

from lastbolt.app.gather import Gathered
from lastbolt.app.holder_words import holder_sort
from lastbolt.app.typed_dowels import dowels_asked
from lastbolt.app.typed_lines import lines_of, remarks_of, struck
from lastbolt.app.typed_places import SaidOfPlaces, said_of_places
from lastbolt.app.typed_rounds import guided_looks, places_left_out
from lastbolt.app.typed_words import (
    COMPARED,
    END_OF_LIST,
    LEFT,
    NO_OTHER_HOLDERS,
    NOBODY,
    WENT_ROUND,
    person_key,
    settles,
)
from lastbolt.app.written_words import is_harmless
from lastbolt.tally.problems import (
    NO_PLACES,
    no_lines,
    no_places,
    typed_hollow_dowel,
    typed_not_understood,
    typed_row_beside_papers,
    typed_struck,
    unlisted_place,
)
from lastbolt.tally.wording import Beside
from lastbolt.tally.wording_steps import FIRST, PAPERWORK
from lastbolt.words.answer import HolderState, NextStep
from lastbolt.words.citation import Citation, SaidPlace
from lastbolt.words.evidence import (
    Act,
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
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import Kind, exactly

ReadKind = Callable[[str], Kind | None]

COUNTED = re.compile(r"^(?:tray|counted)\s*:?\s*(\d+)\s*(?:x|×|pcs|pieces)?\s+(.+)$", re.I)
FASTENERS = re.compile(r"^(\d+)\s*(?:x|×|pcs|pieces)?\s+(.+)$", re.I)
SEVERAL = re.compile(r"[,;/&+?]|\band\b", re.I)
HEADS = re.compile(r",?\s*\bheads(?: only)?$", re.I)
MOST_DIGITS = 3
"""Of a number of pieces; a longer one is a slip."""
PAPER = "typed list"
UNNAMED = ("", "you", "me", "i", "myself", "us", "we", "somebody", "another person", "name")
NOT_READ = ("service manual", "illustrated parts list", "this engine's own file", "a record of the job")


def read_typed(
    text: str,
    read_kind: ReadKind,
    joint: str = "typed joint",
    onto: Gathered | None = None,
    tied: Collection[int] = (),
) -> Gathered:
    """The evidence in typed lines, or what is at hand (`onto`) with what they say added to it.

    `tied`: numbers of the lines that tie a row of the list; they are in what is at hand.
    """
    typed = _Typed(read_kind, onto)
    lines = lines_of(text)
    gone, strikes = struck(lines)
    for number, words in enumerate(lines, start=1):
        if number in gone:
            typed.problems.append(typed_struck(number, words))
        elif words and number not in strikes and number not in tied:
            typed.line(number, words)
    for number, remark in remarks_of(text).items():
        if number not in gone and not is_harmless(remark):
            typed.not_understood(number, f"# {remark}")
    return typed.gathered(joint)


class _Typed:
    """Typed lines so far; places and people of `onto` go by its ids."""

    def __init__(self, read_kind: ReadKind, onto: Gathered | None) -> None:
        self.read_kind = read_kind
        self.onto = onto
        self.start = _last_moment(onto.evidence) if onto else 0
        self.moment = 0
        self.lines: list[Line] = []
        self.places: dict[str, EvidencePlace] = {}
        self.looks: list[Look] = []
        self.acts: list[Act] = []
        self.rounds: list[RoundMade] = []
        self.counts: list[TrayCount] = []
        self.breaks: list[Break] = []
        self.holders: dict[str, HolderState] = {}
        self.no_others = False
        self.people: dict[str, str] = {}
        self.by = NOBODY
        self.ended_by: list[str] = []
        """Who typed the list to its end, or held it against the paper."""
        self.problems: list[Problem] = []
        self.unused: list[tuple[int, str]] = []
        if onto:
            for place in onto.evidence.places:
                self.places.setdefault(_key(place.label), place)
            for one, name in onto.evidence.people:
                self.people.setdefault(person_key(name or one), one)

    def line(self, number: int, words: str) -> None:
        """One typed line."""
        self.moment = self.start + number
        low = " ".join(words.lower().rstrip(".").split())
        if low in END_OF_LIST:
            self.ended_by.append(self._who())
        elif low in COMPARED:
            self._compared()
        elif low in WENT_ROUND:
            self.rounds.append(RoundMade(self._who(), self.moment, f"line {number}"))
        elif low in LEFT:
            self.breaks.append(Break(self.moment, words))
        elif low in NO_OTHER_HOLDERS:
            self.no_others = True
        elif low.startswith("by "):
            self._speaker(number, words)
        elif low.startswith("holder ") and words[7:].strip(" :"):
            self._holder(words[7:])
        elif not (self._tray(number, words) or self._seen(number, words) or self._row(number, words)):
            self.not_understood(number, words)

    def not_understood(self, number: int, words: str) -> None:
        """Note a line that says nothing that is known; with it nothing is called free."""
        if "hollow dowel" in words.casefold():
            self.problems.append(typed_hollow_dowel(number, words))
        else:
            self.problems.append(typed_not_understood(number, words))
        self.unused.append((number, f'line {number} was not understood: "{words}"'))

    def _who(self) -> str:
        return self.people.setdefault(person_key(self.by), self.by)

    def _speaker(self, number: int, words: str) -> None:
        name = " ".join(words[3:].split()).strip(" :.")
        if person_key(name) in UNNAMED or SEVERAL.search(name):
            self.not_understood(number, words)
            return
        self.by = name

    def _compared(self) -> None:
        """Whoever compares the list says all of it once more; and that it was read to its end."""
        who = self._who()
        self.ended_by.append(who)
        self.lines = [
            replace(line, printed=tuple(replace(p, by=(*p.by, who)) for p in line.printed))
            for line in self.lines
        ]

    def _holder(self, words: str) -> None:
        name, _, how = (part.strip() for part in words.partition(":"))
        sort = holder_sort(name)
        told = how or (sort[1] if sort else "not checked")
        known = self.holders.get(_key(name))
        name = known.name if known else name
        self.holders[_key(name)] = HolderState(name, sort[0] if sort else "other", name, settles(how), told)

    def _tray(self, number: int, words: str) -> bool:
        match = COUNTED.match(words)
        if match is None:
            return False
        size, heads = HEADS.subn("", match[2])
        kind = self.read_kind(size)
        if kind is None or len(match[1]) > MOST_DIGITS:
            return False
        count = int(match[1])
        self.counts.append(
            TrayCount(self._who(), kind, count, self.moment, None, not heads, event=f"line {number}")
        )
        return True

    def _seen(self, number: int, words: str) -> bool:
        """All of the line or nothing of it."""
        found = said_of_places(words)
        for said in found:
            for label in said.labels:
                self._say(said, self._place(label, said.far, number), number)
        return bool(found)

    def _place(self, label: str, far: bool, number: int) -> str:
        known = self.places.get(_key(label))
        if known is None:
            known = EvidencePlace(label, label, words="far side" if far else "")
            if self.onto:
                self.problems.append(unlisted_place(label, f"line {number}"))
        elif far and not known.words:
            known = replace(known, words="far side")
        self.places[_key(label)] = known
        return known.id

    def _say(self, said: SaidOfPlaces, place: str, number: int) -> None:
        who, event = self._who(), f"line {number}"
        if said.saw is not None:
            self.looks.append(Look(who, place, said.saw, said.sure, self.moment, event))
        elif said.did:
            self.acts.append(Act(who, place, said.did, self.moment, event=event))

    def _row(self, number: int, words: str) -> bool:
        match = FASTENERS.match(words)
        if match is None:
            return False
        kind = self.read_kind(match[2])
        if kind is None or len(match[1]) > MOST_DIGITS or not int(match[1]):
            return False
        count = int(match[1])
        if self.onto:
            self.problems.append(typed_row_beside_papers(number, words))
            self.unused.append(
                (number, f'line {number} speaks of the list, which the papers give: "{words}"')
            )
            return True
        citation = Citation(PAPER, SaidPlace(self.by, f"line {number}"), words)
        who = self._who()
        printed = Printed(exactly(count, words), PAPER, PAPER, PAPER, citation, by=(who,))
        self.lines.append(
            Line(f"line {number}", kind, (printed,), "wholly", who, words=f'"{words}"', citation=citation)
        )
        return True

    # ---- all of it ----

    def gathered(self, joint: str) -> Gathered:
        """The evidence, and what is missing from it."""
        looks = guided_looks(self.looks, self.rounds)
        left_out = places_left_out(self.looks, self.acts, self.rounds, tuple(self.places.values()))
        whole = tuple(r for r in self.rounds if r.event not in left_out)
        steps = self._steps(left_out)
        if self.onto:
            return self._added(self.onto, looks, whole, steps)
        evidence = Evidence(
            joint,
            tuple(self.places.values()),
            tuple(self.lines),
            (ListRead(PAPER, PAPER, by=tuple(self.ended_by)),) if self.ended_by and self.lines else (),
            (),
            looks,
            whole,
            tuple(self.acts),
            tuple(self.counts),
            tuple(self.breaks),
            tuple((name, name) for name in self.people.values()),
        )
        if not self.places:
            self.problems.append(no_places(joint))
        if not self.lines:
            self.problems.append(no_lines(joint))
        dowels = dowels_asked(self.lines, looks, evidence.places, self.holders)
        holders = (*self.holders.values(), *dowels)
        beside = Beside(joint, steps, holders, self.no_others, (), NOT_READ, tuple(self.problems))
        return Gathered(
            evidence, replace(beside, unused=tuple(words for _, words in self.unused), typed=True)
        )

    def _list_steps(self) -> tuple[NextStep, ...]:
        """What is still to be said of the list: its end; or that another compared it."""
        if self.onto or not self.lines:
            return ()
        if not self.ended_by:
            words = 'Type "end of list" when the paper list was typed to its end.'
            return (NextStep(words, 0.2, PAPERWORK, to_type=("by NAME", "end of list")),)
        went = {round_.by for round_ in self.rounds}
        copied = {by for line in self.lines for printed in line.printed for by in printed.by}
        if not copied or not copied <= went:
            return ()
        words = "Who went round also typed the list; let another compare it with the paper, row by row."
        return (NextStep(words, 1.0, PAPERWORK, to_type=("by NAME", "list compared")),)

    def _steps(self, left_out: dict[str, tuple[str, ...]]) -> tuple[NextStep, ...]:
        steps = []
        for number, words in self.unused[:1]:
            again = f"Say it in other words ({words}), then strike it."
            steps.append(NextStep(again, 0.2, FIRST, to_type=(f"strike line {number}",)))
        steps += self._list_steps()
        done = {round_.by for round_ in self.rounds if round_.event not in left_out}
        for round_ in self.rounds:
            at = left_out.get(round_.event, ())
            if at and round_.by not in done:
                unsaid = f"without a word of place {', '.join(at)}"
                words = f"{round_.by} went round ({round_.event}) {unsaid}: look there."
                steps.append(NextStep(words, 1.0, to_type=_round_again(round_.by, at), places=at))
                break
        return tuple(steps)

    def _added(
        self,
        onto: Gathered,
        looks: tuple[Look, ...],
        rounds: tuple[RoundMade, ...],
        steps: tuple[NextStep, ...],
    ) -> Gathered:
        """What was at hand with the typed statements behind it."""
        old, beside = onto.evidence, onto.beside
        known = {place.id for place in old.places}
        mine = {place.id: place for place in self.places.values()}
        names = dict(old.people)
        if mine:
            beside = replace(beside, problems=tuple(p for p in beside.problems if p.code != NO_PLACES))
        evidence = replace(
            old,
            places=(*old.places, *(place for name, place in mine.items() if name not in known)),
            looks=(*old.looks, *looks),
            rounds=(*old.rounds, *rounds),
            acts=(*old.acts, *self.acts),
            counts=(*old.counts, *self.counts),
            breaks=(*old.breaks, *self.breaks),
            people=(*old.people, *((one, one) for one in self.people.values() if one not in names)),
        )
        return Gathered(
            evidence,
            replace(
                beside,
                next_steps=(*beside.next_steps, *steps),
                holders=self._with_dowels(self._holders(beside.holders), looks, evidence.places),
                holders_asked=beside.holders_asked or self.no_others,
                problems=(*beside.problems, *self.problems),
                unused=(*beside.unused, *(words for _, words in self.unused)),
                typed=True,
            ),
        )

    def _with_dowels(
        self,
        holders: tuple[HolderState, ...],
        looks: tuple[Look, ...],
        places: tuple[EvidencePlace, ...],
    ) -> tuple[HolderState, ...]:
        """The holders, and the dowels that were typed as seen, unless one of the holders is of dowels."""
        named = {holder.id: holder for holder in holders}
        return (*holders, *dowels_asked((), looks, places, named))

    def _holders(self, old: tuple[HolderState, ...]) -> tuple[HolderState, ...]:
        """The holders of the papers, as typed lines settle them; one that only lines name is one more."""
        made, left = [], dict(self.holders)
        names = [_key(state.name) for state in old]
        for state, key in zip(old, names, strict=True):
            said = left.pop(key, None) if names.count(key) == 1 else None
            made.append(replace(state, settled=said.settled, words=said.words) if said else state)
        return (*made, *left.values())


def _round_again(who: str, places: tuple[str, ...]) -> tuple[str, ...]:
    return (f"by {who}", f"{', '.join(places)} open hole", "went round")


def _key(name: str) -> str:
    """What tells places and holders apart: no case, no extra spaces, no zeros before a number."""
    key = " ".join(name.casefold().split())
    return str(int(key)) if key.isdecimal() else key


def _last_moment(evidence: Evidence) -> int:
    e = evidence
    groups = (e.steps, e.looks, e.rounds, e.acts, e.counts, e.breaks)
    return max((item.moment for group in groups for item in group), default=0)
