"""What could be looked at or counted next, as checks whose answers are claims like any other.

Efforts are assumed, in minutes at the bench.
"""

from msgspec import Struct

from lastbolt.tally.build_papers import pieces_of, step_words
from lastbolt.tally.build_people import (
    Scene,
    say_count,
    say_look,
    say_round,
    scene_of,
)
from lastbolt.tally.layout import layout_of
from lastbolt.tally.ledger import Ledger
from lastbolt.words.claims import Account, Answer, Check
from lastbolt.words.evidence import Evidence, Look, RoundMade, TrayCount
from lastbolt.words.joint import SOLID_DOWEL, SOMETHING_IN, TO_THE_BOTTOM, Saw
from lastbolt.words.place_runs import deed_at, listed, with_and
from lastbolt.words.quantity import Kind

ASSUMED_EFFORT_MIN = {
    "look": 0.5,
    "rod": 1.0,
    "depth": 1.0,
    "dowel": 0.5,
    "round": 3.0,
    "round, per place": 0.2,
    "count": 2.0,
    "step": 1.0,
}
MOST_PLACES = 8
MOST_KINDS = 6
HOW = {
    "look": "look into {} from both sides",
    "rod": "put a rod or a light through {}, or to the bottom if it is blind",
    "depth": "put a rod into {} and see that it goes to the known depth of the hole",
    "dowel": "look at the dowel of {} from both ends",
}
SOMEBODY_ELSE = "(another person)"


class Proposal(Struct, frozen=True):
    """A check and what it is about. `agrees` is the answer that finds nothing amiss.

    `places`: all of those that a check of several is about; `parts`: the checks of each by itself. `deed`:
    what is done at each place, the same at all; `new_eyes`: best by somebody who has not looked there. `at`:
    the places that its words name.
    """

    check: Check
    sort: str
    agrees: str
    place: str = ""
    kind: Kind | None = None
    pieces: int = 0
    step: str = ""
    places: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    deed: str = ""
    new_eyes: bool = False
    at: tuple[str, ...] = ()


def propose_checks(evidence: Evidence, account: Account) -> tuple[Proposal, ...]:
    """Candidate next checks, the places under suspicion first."""
    layout = layout_of(evidence)
    scene = scene_of(evidence, layout)
    proposals: list[Proposal] = []
    for place in suspect_places(scene, account)[:MOST_PLACES]:
        proposals.append(_look_at(scene, place, "open hole", "look"))
        proposals.append(_look_at(scene, place, *beyond_a_look(scene, place)))
    proposals.append(_round(scene))
    proposals += [_count(scene, account, kind) for kind in _kinds(scene, account)[:MOST_KINDS]]
    proposals += [
        _confirm(scene, step.id) for step in evidence.steps if step.places and step.state != "started"
    ]
    return tuple(proposals)


def beyond_a_look(scene: Scene, place: str) -> tuple[Saw, str]:
    """What shows at this place that no shank is left in it, which no look into the hole can show."""
    known = scene.places[place]
    saws = [look.saw for look in scene.evidence.looks if look.place == place]
    if any(saw in SOLID_DOWEL for saw in saws) and not any(saw in SOMETHING_IN for saw in saws):
        return "solid dowel, both ends", "dowel"
    return (TO_THE_BOTTOM, "depth") if known.blind else ("light through", "rod")


def suspect_places(scene: Scene, account: Account, *, cheapest: bool = False) -> list[str]:
    """Known places where an explanation has something in, cheapest explanation first, alike ones too.

    With `cheapest`, only those of the least cost; else also places at which nobody has looked.
    """
    known = {place.id: None for place in scene.layout.places}
    groups = [group for group in account.held if not cheapest or group.first.cost == account.held_cost]
    found: dict[str, None] = {}
    for group in groups:
        pieces = [scene.layout.pieces[name] for name, _ in group.first.state]
        found.update({piece.spot: None for piece in pieces if piece.side == "in" and piece.spot in known})
    if cheapest:
        return list(found)
    seen = {look.place for look in scene.evidence.looks}
    alike = [
        cause.rsplit(":", 1)[-1] for group in groups for causes in group.causes_alike for cause in causes
    ]
    return list(
        dict.fromkeys([*found, *(p for p in known if p not in seen), *(p for p in alike if p in known)])
    )


def moment_now(evidence: Evidence) -> int:
    """A moment after all that was said."""
    e = evidence
    groups = (e.steps, e.looks, e.rounds, e.acts, e.counts, e.breaks)
    moments = [item.moment for group in groups for item in group]
    return max(moments, default=0) + 1


def answer_of(ledger: Ledger, check: str, name: str, words: str) -> Answer:
    """What was claimed in a fresh ledger, as one answer with names of its own."""
    claims = tuple(
        type(claim)(
            f"{check}/{name}/{number}", claim.kind, claim.terms, claim.sense, claim.bound, claim.causes
        )
        for number, claim in enumerate(ledger.claims)
    )
    return Answer(name, claims, ledger.causes, words)


def fresh_ledger(scene: Scene) -> Ledger:
    """A ledger for what somebody else may find."""
    ledger = Ledger(scene.evidence)
    ledger.people[SOMEBODY_ELSE] = "another person"
    return ledger


def _look_at(scene: Scene, place: str, agrees: Saw, sort: str) -> Proposal:
    name = f"{sort} {place}"
    answers = []
    saws: tuple[Saw, ...] = (agrees, "in")
    for saw in saws:
        ledger = fresh_ledger(scene)
        say_look(
            ledger, scene, Look(SOMEBODY_ELSE, place, saw, guided=True, moment=moment_now(scene.evidence))
        )
        answers.append(answer_of(ledger, name, saw, f"{ledger.label(place)}: {saw}"))
    labels = fresh_ledger(scene).labels
    words = deed_at([labels.get(place) or place], HOW[sort])
    check = Check(name, ASSUMED_EFFORT_MIN[sort], tuple(answers), words)
    return Proposal(check, sort, agrees, place, deed=HOW[sort], new_eyes=True, at=(place,))


def _round(scene: Scene) -> Proposal:
    now = moment_now(scene.evidence)
    known = [place.id for place in scene.layout.places]
    agree = fresh_ledger(scene)
    say_round(agree, scene, RoundMade(SOMEBODY_ELSE, now))
    for place in known:
        say_look(agree, scene, Look(SOMEBODY_ELSE, place, "open hole", guided=True, moment=now))
    other = fresh_ledger(scene)
    causes = [
        other.cause("misjudged", SOMEBODY_ELSE, "round", words="another person misjudged what they found")
    ]
    spots = [*known, "*"]
    every = frozenset(line.id for line in scene.layout.lines)
    found = pieces_of(scene.layout, every, spots, ("in",))
    other.claim("look", found, (">=", 1), [*causes, other.person(SOMEBODY_ELSE)], "something was found in")
    answers = (
        answer_of(agree, "round", "nothing in", "nothing in at any place, no further place"),
        answer_of(other, "round", "something in", "something found in"),
    )
    effort = ASSUMED_EFFORT_MIN["round"] + ASSUMED_EFFORT_MIN["round, per place"] * len(known)
    went = list(dict.fromkeys(agree.who(round_.by) for round_ in scene.evidence.rounds))
    who = f"Another person than {with_and(went)}" if went else "Somebody"
    words = f"{who} goes round the joint place by place, both sides, along the parting line."
    return Proposal(Check("round", effort, answers, words), "round", "nothing in")


def _kinds(scene: Scene, account: Account) -> list[Kind]:
    """The sizes worth counting: those that an explanation of held has in first, then those never counted."""
    by_id = {line.id: line.kind for line in scene.layout.lines}
    pieces = [scene.layout.pieces[name] for group in account.held for name, _ in group.first.state]
    suspected = [by_id[piece.line] for piece in pieces if piece.side == "in" and piece.spot != "else"]
    counted = {scene.kind_of(count.line, count.kind) for count in scene.evidence.counts}
    uncounted = [
        line.kind
        for line in scene.layout.lines
        if line.listed and line.kind not in counted and not line.unnamed
    ]
    return [kind for kind in dict.fromkeys((*suspected, *uncounted)) if kind.thread or kind.what]


def _count(scene: Scene, account: Account, kind: Kind) -> Proposal:
    """Count the tray for one kind. Expected: what the papers list, else what the likeliest case has out."""
    listed = _listed_pieces(scene, kind)
    expected = _out_of(scene, account, kind) if listed is None else listed
    name = f"count {kind.words()}"
    answers = []
    now = moment_now(scene.evidence)
    for count in dict.fromkeys((expected, max(0, expected - 1), expected + 1)):
        ledger = fresh_ledger(scene)
        say_count(ledger, scene, TrayCount(SOMEBODY_ELSE, kind, count, now))
        answers.append(answer_of(ledger, name, str(count), f"{count} x {kind.words()} counted"))
    tail = "" if listed is None else f" (listed: {listed})"
    size = kind.words()
    deed = "somebody who has not counted counts all trays, each piece from tip to head"
    words = f"{size[:1].upper()}{size[1:]}: {deed}{tail}."
    check = Check(name, ASSUMED_EFFORT_MIN["count"], tuple(answers), words)
    return Proposal(check, "count", str(expected), kind=kind, pieces=expected)


def _listed_pieces(scene: Scene, kind: Kind) -> int | None:
    """How many pieces of a kind the papers list, or the engine's own file; None when they leave it open."""
    total = 0
    tallied = {line.id for line in scene.layout.lines}
    for line in scene.evidence.lines:
        if line.id not in tallied or scene.kind_of(line.id, None) != kind:
            continue
        said = {(p.quantity.low, p.quantity.high, p.quantity.per) for p in line.printed}
        if line.on_engine is not None:
            total += line.on_engine
            continue
        if len(said) != 1:
            return None
        ((low, high, per),) = said
        if low is None or low != high or per in ("each", "side", "assembly"):
            return None
        total += low
    return total or None


def _out_of(scene: Scene, account: Account, kind: Kind) -> int:
    """How many listed pieces of a kind are out in the leading explanation of free."""
    sure = {line for line in scene.layout.line_ids(kind, sure=True) if line in scene.lines}
    state = account.free[0].first.state if account.free else ()
    pieces = scene.layout.pieces
    return sum(n for name, n in state if pieces[name].side == "out" and pieces[name].line in sure)


def _confirm(scene: Scene, step_id: str) -> Proposal:
    step = next(step for step in scene.evidence.steps if step.id == step_id)
    now = moment_now(scene.evidence)
    off = fresh_ledger(scene)
    for place in step.places:
        say_look(off, scene, Look(SOMEBODY_ELSE, place, "open hole", guided=True, moment=now))
    still = fresh_ledger(scene)
    ins = pieces_of(scene.layout, frozenset(line.id for line in scene.layout.lines), step.places, ("in",))
    own = still.cause(
        "misjudged", SOMEBODY_ELSE, step.id, words=f"another person misjudged {step_words(step)}"
    )
    still.claim("look", ins, (">=", 1), [own, still.person(SOMEBODY_ELSE)], "something is still on")
    name = f"step {step.id}"
    answers = (
        answer_of(off, name, "off", "all of it is off"),
        answer_of(still, name, "still on", "something is still on"),
    )
    labels = listed([off.labels.get(place) or place for place in step.places])
    word = "place" if len(step.places) == 1 else "places"
    words = f"Look whether {step_words(step)} is really done ({word} {labels})."
    effort = ASSUMED_EFFORT_MIN["step"] + ASSUMED_EFFORT_MIN["look"] * len(step.places)
    return Proposal(Check(name, effort, answers, words), "step", "off", step=step.id, at=step.places)
