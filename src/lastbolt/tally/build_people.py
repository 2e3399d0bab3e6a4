"""What people claim: looks, rounds, acts, ticked steps and tray counts.

All that one person said shares the cause that they did not really look. What was seen, counted or done before
the last break shares the cause that something was changed since. A look is retired by a later recorded act at
its place; a count made while fasteners still came out becomes a bound.
"""

from collections import Counter
from dataclasses import dataclass

from lastbolt.tally.build_papers import BOTH, has_unnamed_gap, lines_of_step, pieces_of, relations, step_words
from lastbolt.tally.layout import (
    ELSEWHERE,
    NOWHERE_LISTED,
    Layout,
    fits,
    may_be,
    step_may_touch,
    whole_kind,
)
from lastbolt.tally.ledger import Ledger
from lastbolt.words.evidence import Act, Evidence, EvidencePlace, Line, Look, RoundMade, StepSaid, TrayCount
from lastbolt.words.joint import LOOKED_THROUGH, NO_HOLE, NOTHING_IN, SHANK_STAYS, SOMETHING_IN, TO_THE_BOTTOM
from lastbolt.words.quantity import Kind


@dataclass(frozen=True)
class Scene:
    """The evidence with what its people's claims need looked up."""

    evidence: Evidence
    layout: Layout
    places: dict[str, EvidencePlace]
    lines: dict[str, Line]
    last_act: dict[str, Act]

    def kind_of(self, line: str | None, kind: Kind | None) -> Kind | None:
        """The kind meant by a line or kind, as the tally counts it; None when neither says."""
        known = self.lines.get(line or "")
        if kind is None or kind == Kind():
            kind = known.kind if known else None
        return None if kind is None or kind == Kind() else whole_kind(kind)


def scene_of(evidence: Evidence, layout: Layout) -> Scene:
    """The scene of this evidence."""
    last: dict[str, Act] = {}
    for act in evidence.acts:
        if act.place and (act.place not in last or act.moment >= last[act.place].moment):
            last[act.place] = act
    places = {place.id: place for place in layout.places}
    return Scene(evidence, layout, places, {line.id: line for line in evidence.lines}, last)


def say_people(ledger: Ledger, layout: Layout, evidence: Evidence) -> None:
    """Adds every claim of a person to the ledger."""
    scene = scene_of(evidence, layout)
    for look in evidence.looks:
        if look.place in scene.places and not is_retired(scene, look):
            say_look(ledger, scene, look)
    _say_broken(ledger, scene)
    for act in scene.last_act.values():
        _say_act(ledger, scene, act)
    _say_rounds(ledger, scene)
    _say_steps(ledger, scene)
    for count in evidence.counts:
        say_count(ledger, scene, count)


# ---- looks -------------------------------------------------------------------------------------------


def is_retired(scene: Scene, look: Look) -> bool:
    """Whether something recorded later makes this look say nothing about now.

    A later act at the place retires it. A later step there (one only started may be later), or a later guided
    look by the same person, retires only a fastener seen in: that is how it should have come out.
    """
    acts = [act for act in scene.evidence.acts if act.moment > look.moment]
    if any(act.place == look.place for act in acts):
        return True
    saw_in = look.saw in SOMETHING_IN
    unplaced = "took out" if saw_in else "put in"
    if any(act.did == unplaced and not act.place and _may_be_of(scene, act, look.place) for act in acts):
        return True
    if not saw_in or look.saw == SHANK_STAYS:
        return False
    kinds = {line.id: line.kind for line in scene.evidence.lines}
    place = scene.places[look.place]
    stepped = any(
        _maybe_after(step, look.moment) and step_may_touch(step, place, kinds)
        for step in scene.evidence.steps
        if step.state != "not recorded"
    )
    return stepped or any(
        later.by == look.by and later.place == look.place and later.guided and later.moment > look.moment
        and later.saw not in (*SOMETHING_IN, "cannot see")
        for later in scene.evidence.looks
    )  # fmt: skip


def _may_be_of(scene: Scene, act: Act, place: str) -> bool:
    """Whether an act at no place may have been at this one, by the size of what came out or went in."""
    kind = scene.kind_of(act.line, act.kind)
    return kind is None or fits(scene.places[place], kind)


def say_look(ledger: Ledger, scene: Scene, look: Look) -> None:
    """Adds what one look claims; nothing for a place that could not be seen."""
    ins = scene.layout.at("in", look.place)
    outs = scene.layout.at("out", look.place)
    manner = "" if look.guided else " (a glance)"
    words = f'{ledger.who(look.by)} at {ledger.label(look.place)}: "{look.saw}"{manner}'
    if look.saw in SOMETHING_IN:
        causes = [*_looked(ledger, look), *_out_unrecorded(ledger, scene, look.place)]
        ledger.claim("look", ins, (">=", 1), causes, words)
        return
    causes = _looked(ledger, look)
    if look.saw == TO_THE_BOTTOM:
        causes.append(ledger.depth(look.place))
    if look.saw not in LOOKED_THROUGH:
        causes.append(ledger.broken(look.place))
    if look.saw in NO_HOLE:
        ledger.claim("look", [*ins, *outs], ("=", 0), causes, words)
    elif look.saw in NOTHING_IN or look.saw == "out":
        ledger.claim("look", ins, ("=", 0), causes, words)
    if look.saw == "out" and not _may_never_have_had_one(scene, look.place):
        # A hole that never had its fastener looks the same to everybody: the engine, not their eyes.
        ledger.claim("look, gone", outs, (">=", 1), [*causes, ledger.engine()], words)


def _may_never_have_had_one(scene: Scene, place: str) -> bool:
    """Whether, by the engine's own file, this hole may never have had its fastener."""
    if scene.places[place].never_there:
        return True
    here = (scene.lines.get(line.id) for line in scene.layout.lines_at(place))
    return any(line is not None and has_unnamed_gap(scene.layout, line) for line in here)


def _looked(ledger: Ledger, look: Look) -> list[str]:
    """The causes of any look; what a glance did not see is never well shown, what it saw is."""
    weak = not look.guided and look.saw not in SOMETHING_IN
    kind, verb = ("glance", "only glanced at") if weak else ("misjudged", "misjudged")
    if look.saw == TO_THE_BOTTOM and not weak:
        # What a rod says it says by its length: it is read apart from what the same eyes saw in the hole.
        kind, verb = "rod misread", "misread how far a rod went in at"
    words = f"{ledger.who(look.by)} {verb} {ledger.label(look.place)}"
    own = ledger.cause(kind, look.by, look.place, words=words)
    return [own, ledger.person(look.by), *ledger.changed(look.moment)]


def _out_unrecorded(ledger: Ledger, scene: Scene, place: str) -> list[str]:
    """What may have come out since without a record: at this place, or by a step that nobody ticked."""
    kinds = {line.id: line.kind for line in scene.evidence.lines}
    steps = [
        step
        for step in scene.evidence.steps
        if step.state == "not recorded" and step_may_touch(step, scene.places[place], kinds)
    ]
    return [
        ledger.taken_out_since(place),
        *(name for step in steps for name in _unrecorded(ledger, scene, step)),
    ]


def _say_broken(ledger: Ledger, scene: Scene) -> None:
    """A place said to be broken off, when no look says so and no later act got it out."""
    seen = {look.place for look in scene.evidence.looks if look.saw == SHANK_STAYS}
    for place in dict.fromkeys(scene.evidence.broken):
        if place in seen or place in scene.last_act or place not in scene.places:
            continue
        words = f"{ledger.label(place)} is said to be broken off, shank in"
        cause = ledger.cause("misjudged", "broken off", place, words=f"{words}, and is not")
        causes = [cause, ledger.taken_out_since(place)]
        ledger.claim("broken off", scene.layout.at("in", place), (">=", 1), causes, words)


# ---- acts, rounds, steps -----------------------------------------------------------------------------


def _say_act(ledger: Ledger, scene: Scene, act: Act) -> None:
    """The last recorded act at a place: taken out, or put back in."""
    if act.place not in scene.places:
        return
    ins, outs = scene.layout.at("in", act.place), scene.layout.at("out", act.place)
    words = f"{ledger.who(act.by)} {act.did} at {ledger.label(act.place)}"
    about = act.event or act.place
    own = ledger.cause("recorded, not so", act.by, about, words=f"recorded but not so: {words}")
    causes = [own, ledger.person(act.by), *ledger.changed(act.moment)]
    if act.did == "put in":
        since = _out_unrecorded(ledger, scene, act.place)
        ledger.claim("act", ins, (">=", 1), [*causes, *since], words)
        return
    causes.append(ledger.broken(act.place))
    ledger.claim("act", ins, ("=", 0), causes, words)
    ledger.claim("act", outs, (">=", 1), causes, words)


def _say_rounds(ledger: Ledger, scene: Scene) -> None:
    latest: dict[str, RoundMade] = {}
    for round_ in scene.evidence.rounds:
        if round_.by not in latest or round_.moment > latest[round_.by].moment:
            latest[round_.by] = round_
    for round_ in latest.values():
        say_round(ledger, scene, round_)


def say_round(ledger: Ledger, scene: Scene, round_: RoundMade) -> None:
    """Adds what a complete guided round claims: there is no further place."""
    who = ledger.who(round_.by)
    own = ledger.cause("missed a place", round_.by, words=f"{who} missed a place that nobody listed")
    causes = [own, ledger.person(round_.by), *ledger.changed(round_.moment)]
    pieces = [name for side in BOTH for name in scene.layout.at(side, NOWHERE_LISTED)]
    ledger.claim("round", pieces, ("=", 0), causes, f"{who} went round and found no further place")


def _say_steps(ledger: Ledger, scene: Scene) -> None:
    together = Counter((s.by, s.moment) for s in scene.evidence.steps if s.state == "done" and s.moment)
    for step in scene.evidence.steps:
        if step.state == "done":
            _say_done(ledger, scene, step, together[step.by, step.moment] > 1)
        elif step.state == "not recorded":
            _say_not_recorded(ledger, scene, step)


def _spots_of_step(scene: Scene, step: StepSaid) -> tuple[str, ...]:
    """Where the step's own pieces are: its places; everywhere here when it takes the whole of one line.

    Empty when its pieces cannot be told from others: other steps on the line, or fewer than the line has.
    """
    if step.places:
        return tuple(place for place in step.places if place in scene.places)
    line = scene.lines.get(step.line or "")
    alone = sum(1 for other in scene.evidence.steps if other.line == step.line) == 1
    if line is None or not alone:
        return ()
    counts = {relations(printed.quantity) for printed in line.printed}
    whole = step.removes.kind == "unsaid" or counts == {relations(step.removes)}
    return tuple(spot for spot in scene.layout.spots if spot != ELSEWHERE) if whole else ()


def _say_done(ledger: Ledger, scene: Scene, step: StepSaid, together: bool) -> None:
    spots = [
        spot for spot in _spots_of_step(scene, step)
        if spot not in scene.last_act or scene.last_act[spot].moment <= step.moment
    ]  # fmt: skip
    about = ("at once", step.by, str(step.moment)) if together else (step.id,)
    what = "a whole procedure was" if together else f"{step_words(step)}:"
    own = ledger.cause(
        "ticked, not done", *about, words=f"{what} ticked by {ledger.who(step.by)}, not (all) done"
    )
    causes = [own, ledger.person(step.by), *ledger.changed(step.moment)]
    causes += [ledger.broken(spot) for spot in spots if spot in scene.places]
    pieces = pieces_of(scene.layout, lines_of_step(scene.layout, step), spots, ("in",))
    ledger.claim("done", pieces, ("=", 0), causes, f"{step_words(step)}: ticked by {ledger.who(step.by)}")


def _unrecorded(ledger: Ledger, scene: Scene, step: StepSaid) -> list[str]:
    own = ledger.cause("done, not recorded", step.id, words=f"{step_words(step)}: done, but not recorded")
    steps = scene.evidence.steps
    unticked = sum(1 for other in steps if other.state == "not recorded")
    if unticked < 2 or any(other.state == "done" for other in steps):
        return [own]
    return [own, ledger.cause("record not kept", words="nobody ticked the steps of this job")]


def _say_not_recorded(ledger: Ledger, scene: Scene, step: StepSaid) -> None:
    """Nothing of an unrecorded step is out, but where an act was recorded instead."""
    acted = {place for place, act in scene.last_act.items() if act.did == "took out"}
    if any(act.did == "took out" and not act.place for act in scene.evidence.acts):
        return
    spots = [spot for spot in _spots_of_step(scene, step) if spot not in acted]
    pieces = pieces_of(scene.layout, lines_of_step(scene.layout, step, sure=True), spots, ("out",))
    words = f"{step_words(step)}: not recorded as done"
    # What went at a break went unrecorded: one event for those who saw it in and for this record.
    causes = [*_unrecorded(ledger, scene, step), *ledger.changed(step.moment)]
    ledger.claim("not recorded", pieces, ("=", 0), causes, words)


# ---- trays -------------------------------------------------------------------------------------------


def say_count(ledger: Ledger, scene: Scene, count: TrayCount) -> None:
    """Pieces out of a kind are as many as counted; bounds only, when not all was counted, or not last."""
    kind = scene.kind_of(count.line, count.kind)
    if kind is None or kind.what == "dowel":
        return
    may, sure = scene.layout.line_ids(kind), scene.layout.line_ids(kind, sure=True)
    low, high = _since_counted(scene, count, kind)
    size = kind.words()
    who = ledger.who(count.by)
    words = f"{who} counted {count.pieces} x {size} in the tray"
    if not count.complete_pieces:
        words += ", heads only"
    own = ledger.cause(
        "miscount" if count.complete_pieces else "heads only",
        count.by,
        size,
        words=f"{who} miscounted {size} in the tray",
    )
    tray = ledger.cause("tray", words="a tray is mixed, or pieces of it are somewhere else")
    causes = [own, tray, ledger.person(count.by), *ledger.changed(count.moment)]
    spots = scene.layout.spots
    since = _out_after_count(ledger, scene, kind)
    if low == high and may == sure and not since:
        ledger.claim("tray", pieces_of(scene.layout, may, spots, ("out",)), ("=", low), causes, words)
        return
    if low > 0:
        ledger.claim("tray", pieces_of(scene.layout, may, spots, ("out",)), (">=", low), causes, words)
    if high is not None:
        pieces = pieces_of(scene.layout, sure, spots, ("out",))
        ledger.claim("tray", pieces, ("<=", high), [*causes, *since], words)


def _out_after_count(ledger: Ledger, scene: Scene, kind: Kind) -> list[str]:
    """What may have come out unrecorded after the count: the same events that fool those who saw it in."""
    seen_in = {look.place for look in scene.evidence.looks if look.saw in SOMETHING_IN}
    seen_in |= {place for place, act in scene.last_act.items() if act.did == "put in"}
    fit = [p for p in scene.layout.places if p.id in seen_in and fits(p, kind)]
    steps = [
        step
        for step in scene.evidence.steps
        if step.state == "not recorded" and may_be(kind, scene.kind_of(step.line, step.kind))
    ]
    unticked = [name for step in steps for name in _unrecorded(ledger, scene, step)]
    return [*(ledger.taken_out_since(place.id) for place in fit), *unticked]


def _since_counted(scene: Scene, count: TrayCount, kind: Kind) -> tuple[int, int | None]:
    """How many pieces of the kind may be out now, at least and at most, given what was recorded since."""
    low, high = count.pieces, None if not count.all_trays else count.pieces
    for act in scene.evidence.acts:
        if act.moment <= count.moment or not _act_may_move(scene, act, kind):
            continue
        if act.did == "put in":
            low = max(0, low - 1)
        else:
            high = None if high is None or not act.place else high + 1
    # A step takes out whatever length stood in its holes, and how many it prints may be wrong.
    of_thread = Kind(kind.what, kind.thread)
    for step in scene.evidence.steps:
        after = step.state != "not recorded" and _maybe_after(step, count.moment)
        if after and may_be(of_thread, scene.kind_of(step.line, step.kind)):
            high = None
    return low, high


def _act_may_move(scene: Scene, act: Act, kind: Kind) -> bool:
    """Whether what was taken out or put in may have been of this kind: as said, else what fits the place."""
    said = scene.kind_of(act.line, act.kind)
    if said is not None or act.place not in scene.places:
        return may_be(kind, said)
    return any(may_be(kind, line.kind) for line in scene.layout.lines_at(act.place) if not line.unnamed)


def _maybe_after(step: StepSaid, moment: int) -> bool:
    """Whether the step's pieces may have come out after this moment; of one only started nobody says when."""
    return step.moment > moment or (step.state == "started" and step.moment == 0)
