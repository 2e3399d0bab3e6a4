"""One more look, round or count in a scene that stands still: what that person then says, rightly or not."""

from dataclasses import replace
from random import Random
from zlib import crc32

from msgspec.structs import replace as with_fields

from lastbolt.words.evidence import Evidence, EvidencePlace, Look, RoundMade, TrayCount
from lastbolt.words.joint import Saw
from lastbolt.words.quantity import Kind

from .doing import probed_answers, true_answers, wrong_answer, wrong_probe
from .scenes import PlaceTruth, Root, Scene
from .world import Piece, Spot

ASKED = ("look", "light", "round", "count")


class _Asking:
    """The evidence and roots being added to, and how this person behaves this time."""

    def __init__(self, scene: Scene, person: str, rng: Random):
        self.scene, self.person, self.rng = scene, person, rng
        evidence = scene.evidence
        said = [
            *(x.moment for group in (evidence.looks, evidence.rounds, evidence.acts) for x in group),
            *(x.moment for group in (evidence.counts, evidence.breaks, evidence.steps) for x in group),
        ]
        self.moment = max(said, default=0) + 1
        self.roots = list(scene.roots)
        self.places = list(evidence.places)
        self.looks: list[Look] = []
        self.rounds: list[RoundMade] = []
        self.counts: list[TrayCount] = []
        lazy = Root("did not look", person) in scene.roots
        new = person not in {who for who, _ in evidence.people}
        rates = scene.settings.rates
        self.sham = rng.random() < (rates.sham_again if lazy else rates.did_not_look if new else 0.0)

    def spoil(self, root: Root) -> None:
        """Note a root, once."""
        if root not in self.roots:
            self.roots.append(root)

    def look(self, place: PlaceTruth, light: bool) -> None:
        """A guided look at one place, or a rod, lamp or light into its hole."""
        spot, rng = _spot(self.scene, place), self.rng
        again = Root("misjudged a place", f"{self.person} at {place.id}")
        truly = true_answers(spot)
        if self.sham:
            probe: Saw = "light through" if place.through else "rod to the bottom"
            saw: Saw = probe if light and place.form != "stud" else "out"
            if saw not in truly:
                self.spoil(Root("did not look", self.person))
        elif place.state == "shank" and not light and place.state_at(0) != "shank":
            saw = "out"
            self.spoil(Root("broken head", place.id))
        elif light and Root("hole deeper than known", place.id) in self.roots and place.state == "shank":
            saw = "rod to the bottom"
        elif rng.random() < self._chance_of_error(spot, light, again):
            saw = wrong_probe(rng, spot) if light else wrong_answer(rng, spot)
            self.spoil(again)
        else:
            shown = probed_answers(spot) or [answer for answer in truly if answer == "open hole"]
            saw = shown[-1] if light and shown else truly[0]
        self.looks.append(Look(self.person, place.id, saw, True, self.moment))

    def _chance_of_error(self, spot: Spot, light: bool, again: Root) -> float:
        rates_ = self.scene.settings.rates
        miss = 1 - (rates_.light_detects if light else rates_.look_detects)
        usual = miss if spot.state != "empty" else rates_.misjudged_a_place
        return 0.5 if again in self.roots and not light else usual

    def round(self) -> None:
        """Once more round, guided: every known place, and the search for places nobody listed."""
        known = {place.id for place in self.places}
        for place in self.scene.truth.places:
            if place.id in known:
                self.look(place, light=False)
        for place in self.scene.truth.places:
            if place.id in known:
                continue
            if self.sham:
                self.spoil(Root("did not look", self.person))
            elif self.rng.random() < self.scene.settings.rates.missed_a_place:
                self.spoil(Root("missed a place", f"{self.person}, not listed: {place.id}"))
            else:
                self.places.append(EvidencePlace(place.id, place.id[1:]))
                self.roots = [r for r in self.roots if not _missed(r, place.id)]
                self.look(place, light=False)
        self.rounds.append(RoundMade(self.person, self.moment))

    def count(self, kind: Kind) -> None:
        """Count the complete pieces of one kind in all trays."""
        moves = self.scene.truth.tray_moves
        true = sum(m[5] for m in moves if m[4] == "whole" and kind.matches(m[2]) != "no")
        said = true
        if self.sham:
            lines = [line for line in self.scene.evidence.lines if line.kind == kind and line.printed]
            low = lines[0].printed[0].quantity.low if lines else None
            said = true if low is None else low
            if said != true:
                self.spoil(Root("did not look", self.person))
        elif self.rng.random() < self.scene.settings.rates.miscounted:
            said = true + 1 if true == 0 or self.rng.random() < 0.5 else true - 1
            self.spoil(Root("miscounted", f"{self.person}, {kind.words()}, moment {self.moment}"))
        self._blame_tray(kind)
        self.counts.append(TrayCount(self.person, kind, said, self.moment))

    def _blame_tray(self, kind: Kind) -> None:
        """A tray that was wrong all along becomes a root once somebody goes by it."""
        truth = self.scene.truth
        for moment, tray, piece_kind, line, what, change in truth.tray_moves:
            own = any(p.line is None and p.place and p.actual == piece_kind for p in truth.pieces)
            if (
                line is None
                and moment == 0
                and what == "whole"
                and change > 0
                and piece_kind == kind
                and not own
            ):
                self.spoil(Root("tray mixed or short", tray))

    def result(self) -> Scene:
        """The scene with all that was said now."""
        old = self.scene.evidence
        people = old.people
        if self.person not in {who for who, _ in people}:
            people = (*people, (self.person, self.person.capitalize()))
        evidence: Evidence = with_fields(
            old,
            places=tuple(self.places),
            looks=(*old.looks, *self.looks),
            rounds=(*old.rounds, *self.rounds),
            counts=(*old.counts, *self.counts),
            people=people,
        )
        known = {place.id for place in self.places}
        lines = {piece.place: piece for piece in self.scene.truth.pieces}
        listed = {line.id for line in evidence.lines}
        holding = tuple(
            (place.id if place.id in known else "unlisted", _line_of(lines[place.id], listed))
            for place in self.scene.truth.places
            if place.state != "empty"
        )
        return replace(
            self.scene,
            evidence=evidence,
            truth=replace(self.scene.truth, holding=holding),
            roots=tuple(self.roots),
            asked=self.scene.asked + 1,
        )


def ask(scene: Scene, person: str, what: str, place: str | None = None, kind: Kind | None = None) -> Scene:
    """The scene after this person did `what`: "look" or "light" at a known place, "round", "count" of a kind.

    A person nobody has met yet is simply named. The same question to the same scene gets the same answer.
    """
    words = f"{scene.seed}|{scene.asked}|{person}|{what}|{place}|{kind.words() if kind else ''}"
    asking = _Asking(scene, person, Random(crc32(words.encode())))
    if what in ("look", "light"):
        known = {known.id for known in scene.evidence.places}
        spots = [truth for truth in scene.truth.places if truth.id == place and truth.id in known]
        if not spots:
            raise ValueError(f"nobody has listed a place {place!r}; known: {sorted(known)}")
        asking.look(spots[0], light=what == "light")
    elif what == "round":
        asking.round()
    elif what == "count" and kind is not None:
        asking.count(kind)
    else:
        raise ValueError(f"cannot ask for {what!r} (kind {kind}); one of {ASKED}, a count with its kind")
    return asking.result()


def _missed(root: Root, place: str) -> bool:
    """Whether the root is that somebody went round without finding this place, which is listed by now."""
    return root.kind == "missed a place" and root.subject.endswith(f": {place}")


def _line_of(piece: object, listed: set[str]) -> str:
    line = getattr(piece, "line", None)
    if line is None and "E1" in listed:
        return "E1"
    return line if line in listed else "unlisted kind"


def _spot(scene: Scene, place: PlaceTruth) -> Spot:
    """The place as the bench sees it now."""
    spot = Spot(place.id, place.form, Random(0))
    spot.through, spot.drilled, spot.listed, spot.state = (
        place.through,
        place.drilled,
        place.listed,
        place.state,
    )
    for piece in scene.truth.pieces:
        if piece.place == place.id:
            spot.piece = Piece(piece.id, piece.kind, piece.line, piece.place)
    return spot
