"""Typed lines -> evidence: one joint without a manual, or what was seen beside the documents.

    7 x M6x45                     a line of the paper list, all of this joint
    2 x M8x70 far side
    end of list                   the paper list was typed to its end
    list compared                 somebody held the typed list against the paper, row by row, to its end
    by Ann                        who says what follows
    first by Ann                  who said what stands before the first "by"
    goal split the gearcase       what the lines are about; also "machine H40"
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

from collections.abc import Collection, Mapping

from msgspec.structs import replace

from lastbolt.app.gather import Gathered
from lastbolt.app.recorded_apart import speaks_against
from lastbolt.app.rows_nowhere import with_rows_nowhere
from lastbolt.app.tray_counts import COUNTS, with_counts_told
from lastbolt.app.typed_about import about_of
from lastbolt.app.typed_asks import gap_step, list_steps, unused_steps
from lastbolt.app.typed_dowels import dowels_asked
from lastbolt.app.typed_holders import SaidOfHolder, key_of, state_of, with_dowels, with_typed
from lastbolt.app.typed_lines import first_speaker, lines_of, remarks_of, speaker_of, struck
from lastbolt.app.typed_names import nearly_said
from lastbolt.app.typed_pieces import ReadKind, counted_pieces, listed_pieces
from lastbolt.app.typed_places import SaidOfPlaces, said_of_places
from lastbolt.app.typed_refused import Examples, Refused, half_said, refusal
from lastbolt.app.typed_rounds import answered_by_rounds, guided_looks, places_left_out
from lastbolt.app.typed_spoken import as_typed
from lastbolt.app.typed_words import (
    COMPARED,
    END_OF_LIST,
    LEFT,
    NO_OTHER_HOLDERS,
    NOBODY,
    WENT_ROUND,
    person_key,
)
from lastbolt.app.written_words import is_harmless
from lastbolt.tally.problems import (
    NO_PLACES,
    no_lines,
    no_places,
    typed_row_beside_papers,
    typed_struck,
    unlisted_place,
)
from lastbolt.tally.wording import Beside
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
from lastbolt.words.quantity import exactly

PAPER = "typed list"
WHOLE_DOWEL = ("hollow dowel, empty", "hollow dowel, bolt in")
NOT_READ = ("service manual", "illustrated parts list", "this engine's own file", "a record of the job")


def read_typed(
    text: str,
    read_kind: ReadKind,
    joint: str = "typed joint",
    onto: Gathered | None = None,
    tied: Collection[int] = (),
    refused: Mapping[int, Refused] | None = None,
) -> Gathered:
    """The evidence in typed lines, or what is at hand (`onto`) with what they say added to it.

    `tied`: numbers of the lines that tie rows of the list; they are in what is at hand. `refused`: why others
    that speak of rows tie none.
    """
    typed = _Typed(read_kind, onto, refused or {})
    lines = lines_of(text)
    gone, strikes = struck(lines)
    first, said = first_speaker(lines, gone)
    typed.by = first or NOBODY
    passed = {*strikes, *tied, *said, *about_of(text).lines}
    for number, words in enumerate(lines, start=1):
        if number in gone:
            typed.problems.append(typed_struck(number, words))
        elif words and number not in passed:
            typed.line(number, words)
    for number, remark in remarks_of(text).items():
        if number not in gone and not is_harmless(remark):
            typed.not_understood(number, f"# {remark}")
    return typed.gathered(joint)


class _Typed:
    """Typed lines so far; places and people of `onto` go by its ids."""

    def __init__(self, read_kind: ReadKind, onto: Gathered | None, refused: Mapping[int, Refused]) -> None:
        self.read_kind = read_kind
        self.refused = refused
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
        self.holders: dict[str, SaidOfHolder] = {}
        self.no_others = False
        self.people: dict[str, str] = {}
        self.by = NOBODY
        self.ended_by: list[str] = []
        """Who typed the list to its end, or held it against the paper."""
        self.problems: list[Problem] = []
        self.unused: list[tuple[int, str]] = []
        self.half: dict[int, tuple[str, set[str]]] = {}
        """Lines that say no more than "hollow dowel": who said it, and of which places."""
        self.walked = bool(onto and onto.evidence.places)
        if onto:
            for place in onto.evidence.places:
                self.places.setdefault(key_of(place.label), place)
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
        elif (speaker := speaker_of(words)) is not None:
            self._speaker(number, words, speaker)
        elif low.startswith("holder ") and words[7:].strip(" :"):
            self._holder(words[7:])
        elif not self._said(number, words):
            self._spoken(number, words)

    def _said(self, number: int, words: str) -> bool:
        """Whether the line counts, says what was seen, or gives a row."""
        return self._tray(number, words) or self._seen(number, words) or self._row(number, words)

    def _spoken(self, number: int, words: str) -> None:
        """A line as people say it, and by whom; whoever spoke before goes on behind it."""
        spoken, before = as_typed(words, self.people), self.by
        self.by = spoken.by or before
        if spoken.line == words or not self._said(number, spoken.line):
            self.not_understood(number, words)
        self.by = before

    def not_understood(self, number: int, words: str) -> None:
        """Note a line that says nothing that is known; with it nothing is called free."""
        if places := half_said(words):
            self.half[number] = (self._who(), {key_of(label) for label in places})
        self.problems.append(refusal(number, words, self.refused.get(number), self._examples()))
        self.unused.append((number, f'line {number} was not understood: "{words}"'))

    def _examples(self) -> Examples:
        """Lines to go by, with a size and places of this joint."""
        lines = self.onto.evidence.lines if self.onto else self.lines
        row = next((line for line in lines if line.belongs == "wholly" and line.printed), None)
        count = row.printed[0].quantity.low if row else None
        if row is None or not count:
            return Examples(listed="") if self.onto else Examples()
        pieces = f"{count} x {row.kind.words().removeprefix('screw ')}"
        return Examples("" if self.onto else pieces, f"tray {pieces}", f"1-{count} out")

    def _who(self) -> str:
        return self.people.setdefault(person_key(self.by), self.by)

    def _speaker(self, number: int, words: str, name: str) -> None:
        if name and not nearly_said(name, self.people):
            self.by = self.people.get(person_key(name), name)
            self.people.setdefault(person_key(name), name)
        else:
            self.not_understood(number, words)

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
        known = self.holders.get(key_of(name))
        self.holders[key_of(name)] = SaidOfHolder(known.name if known else name, how)

    def _tray(self, number: int, words: str) -> bool:
        found = counted_pieces(words, self.read_kind)
        for one in found or ():
            event = f"line {number}"
            self.counts.append(
                TrayCount(self._who(), one.kind, one.count, self.moment, None, one.whole, event=event)
            )
        return bool(found)

    def _seen(self, number: int, words: str) -> bool:
        """All of the line or nothing of it."""
        found = said_of_places(words)
        for said in found:
            for label in said.labels:
                self._say(said, self._place(label, said.far, number), number)
        return bool(found)

    def _place(self, label: str, far: bool, number: int) -> str:
        known = self.places.get(key_of(label))
        if known is None:
            known = EvidencePlace(label, label, words="far side" if far else "")
            if self.walked:
                self.problems.append(unlisted_place(label, f"line {number}"))
        elif far and not known.words:
            known = replace(known, words="far side")
        self.places[key_of(label)] = known
        return known.id

    def _say(self, said: SaidOfPlaces, place: str, number: int) -> None:
        who, event = self._who(), f"line {number}"
        if said.saw is not None:
            self.looks.append(Look(who, place, said.saw, said.sure, self.moment, event))
        elif said.did:
            self.acts.append(Act(who, place, said.did, self.moment, event=event))

    def _row(self, number: int, words: str) -> bool:
        row = listed_pieces(words, self.read_kind)
        if row is None:
            return False
        if self.onto:
            self.problems.append(typed_row_beside_papers(number, words))
            self.unused.append(
                (number, f'line {number} speaks of the list, which the papers give: "{words}"')
            )
            return True
        citation = Citation(PAPER, SaidPlace(self.by, f"line {number}"), words)
        who = self._who()
        printed = Printed(exactly(row.count, words), PAPER, PAPER, PAPER, citation, by=(who,))
        self.lines.append(
            Line(f"line {number}", row.kind, (printed,), "wholly", who, words=f'"{words}"', citation=citation)
        )
        return True

    # ---- all of it ----

    def gathered(self, joint: str) -> Gathered:
        """The evidence, and what is missing from it."""
        self._half_said_since()
        looks = guided_looks(self.looks, self.rounds)
        left_out = places_left_out(self.looks, self.acts, self.rounds, tuple(self.places.values()))
        whole = tuple(r for r in self.rounds if r.event not in left_out)
        steps = self._steps(looks, left_out)
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
        named = {key: state_of(said) for key, said in self.holders.items()}
        holders = (*named.values(), *dowels_asked(self.lines, looks, evidence.places, named))
        if COUNTS not in named:
            holders = with_counts_told(holders, self.counts, self.acts)
        holders = with_rows_nowhere(evidence, holders)
        beside = Beside(joint, steps, holders, self.no_others, (), NOT_READ, tuple(self.problems))
        return Gathered(
            evidence, replace(beside, unused=tuple(words for _, words in self.unused), typed=True)
        )

    def _half_said_since(self) -> None:
        """What is said by the same person whole, of the same places and later, need not be struck."""
        for number, (who, places) in self.half.items():
            since = {
                key
                for key in places
                for look in self.looks
                if look.place == getattr(self.places.get(key), "id", None)
                and (look.by, look.saw in WHOLE_DOWEL) == (who, True)
                and look.moment > self.start + number
            }
            if since == places:
                self.unused = [one for one in self.unused if one[0] != number]
                self.problems = [one for one in self.problems if not one.where.startswith(f"line {number}:")]

    def _steps(self, looks: tuple[Look, ...], left_out: dict[str, tuple[str, ...]]) -> tuple[NextStep, ...]:
        places = tuple(self.places.values())
        listed = () if self.onto else list_steps(self.lines, self.ended_by, self.rounds)
        gap = gap_step(self.rounds, left_out, (looks, self.acts), places)
        return (*unused_steps(self.unused), *listed, *gap)

    def _added(
        self,
        onto: Gathered,
        looks: tuple[Look, ...],
        rounds: tuple[RoundMade, ...],
        steps: tuple[NextStep, ...],
    ) -> Gathered:
        """What was at hand with the typed statements behind it."""
        old, beside = onto.evidence, answered_by_rounds(onto.beside, rounds)
        known = {place.id for place in old.places}
        mine = {place.id: place for place in self.places.values()}
        names = dict(old.people)
        against: tuple[str, ...] = ()
        if beside.apart and speaks_against(looks, self.acts):
            against = (f"the record has the joint apart ({beside.apart}), typed lines have something in it",)
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
                holders=self._holders_beside(beside.holders, evidence, looks),
                holders_asked=beside.holders_asked or self.no_others,
                problems=(*beside.problems, *self.problems),
                unused=(*beside.unused, *(words for _, words in self.unused), *against),
                typed=True,
                apart="" if against else beside.apart,
            ),
        )

    def _holders_beside(
        self, old: tuple[HolderState, ...], evidence: Evidence, looks: tuple[Look, ...]
    ) -> tuple[HolderState, ...]:
        """The holders of the papers with what lines say of them, asked again by all that is known now."""
        known = with_rows_nowhere(evidence, with_counts_told(old, evidence.counts, evidence.acts))
        return with_dowels(with_typed(known, self.holders), looks, evidence.places)


def _last_moment(evidence: Evidence) -> int:
    e = evidence
    groups = (e.steps, e.looks, e.rounds, e.acts, e.counts, e.breaks)
    return max((item.moment for group in groups for item in group), default=0)
