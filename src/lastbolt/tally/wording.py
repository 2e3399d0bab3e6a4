"""The account of a joint in words: the one sentence, the places, the counts side by side.

Plain shop English, short. The word "pull" stands only behind "Do not"; no rate or probability is shown.
"""

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.tally.build_papers import step_words
from lastbolt.tally.build_people import Scene, is_retired, scene_of
from lastbolt.tally.checks import suspect_places
from lastbolt.tally.layout import layout_of, step_may_touch, whole_kind
from lastbolt.tally.ledger import Ledger, cited
from lastbolt.tally.wording_counts import count_table, counts_in_short, differing_counts, in_all
from lastbolt.tally.wording_suspicions import certificate_words, suspicions
from lastbolt.words.answer import (
    ANSWER_SCHEMA,
    Answer,
    HolderState,
    NextStep,
    PlaceState,
    TakenAs,
)
from lastbolt.words.claims import Account, ClaimSet
from lastbolt.words.counts import CountTable
from lastbolt.words.evidence import Evidence, EvidencePlace, Look
from lastbolt.words.joint import NO_HOLE, NOTHING_IN, SHANK_STAYS, SOLID_DOWEL, SOMETHING_IN
from lastbolt.words.picture import Mark
from lastbolt.words.place_runs import with_and
from lastbolt.words.problem import Problem

NOT_COVERED = (
    "People who agreed on what to write, or one person under two names.",
    "A kind of fastener taken for another, or the wrong joint looked at.",
    "A nut that is off while its stud is seized in both halves.",
    "Mistakes of a sort that docs/tally.md does not name.",
    "More fasteners at places nobody listed than the largest count printed.",
)


NOT_COUNTED = "All fasteners that are counted are out, by all that is known; for this nothing counts."
NOT_SO = "Nothing is left to pull. If it still holds somewhere: stop, and take that tick back."
MOST_HOLDERS = 3
MOST_NAMED = 5
"""Places named in the sentence itself; more are only counted."""


class Beside(Struct, frozen=True):
    """What the answer shows beside the account: next steps, holders, and what it stands on.

    `unused`: what was said of this joint and could not be used, in words; with any of it nothing is free.
    `typed`: somebody types, so next steps say what to type. `apart`: which step, looked at by
    whom, says that the joint is apart already.
    """

    name: str = ""
    next_steps: tuple[NextStep, ...] = ()
    holders: tuple[HolderState, ...] = ()
    holders_asked: bool = False
    taken_as: tuple[TakenAs, ...] = ()
    not_read: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    unused: tuple[str, ...] = ()
    typed: bool = False
    machine: str = ""
    apart: str = ""


def word_answer(evidence: Evidence, claims: ClaimSet, account: Account, beside: Beside) -> Answer:
    """The answer about this joint, in words."""
    layout = layout_of(evidence)
    scene = scene_of(evidence, layout)
    ledger = Ledger(evidence)
    suspects = set(suspect_places(scene, account, cheapest=True)) if account.verdict != "free" else set()
    places = tuple(_place_state(ledger, scene, place) for place in layout.places)
    if all(state.accounted for state in places):
        places = tuple(replace(state, look=state.place in suspects) for state in places)
    open_holders = [holder for holder in beside.holders if not holder.settled]
    listed = bool(beside.holders) or beside.holders_asked
    counts = count_table(ledger, scene)
    return Answer(
        ANSWER_SCHEMA,
        evidence.joint,
        beside.name or evidence.joint,
        "not shown" if account.verdict == "free" and _uncounted(beside) else account.verdict,
        one_sentence(account, places, beside, counts_in_short(counts, in_all(scene))),
        machine=beside.machine,
        apart=beside.apart,
        clear_to_part=account.verdict == "free" and listed and not open_holders and not beside.unused,
        why=_why(account, counts, beside),
        next_steps=() if beside.apart else beside.next_steps,
        places=places,
        counts=counts,
        suspicions=() if beside.apart else suspicions(ledger, scene, claims, account),
        holders=beside.holders,
        certificate=certificate_words(ledger, scene, claims, account),
        taken_as=beside.taken_as,
        not_read=beside.not_read,
        not_covered=NOT_COVERED,
        mistakes_if_free=account.free_cost,
        mistakes_if_held=account.held_cost,
        margin=account.margin,
        proved=account.proved,
        limits=account.limits,
        problems=beside.problems,
        witnesses=witnesses(ledger, scene, beside.taken_as),
        unused=beside.unused,
    )


def one_sentence(account: Account, places: tuple[PlaceState, ...], beside: Beside, differ: str = "") -> str:
    """The sentence that stands largest on the screen or sheet; it names what was said and not used.

    `differ`: the counts that differ, in short. Whatever is not clear to part says "Do not pull", unless
    the joint is apart already.
    """
    if beside.apart:
        return f"Recorded as apart: {beside.apart}. {NOT_SO}"
    said = _sentence(account, places, beside, differ)
    if not beside.unused:
        return said
    more = f" (and {len(beside.unused) - 1} more)" if len(beside.unused) > 1 else ""
    unused = f"{beside.unused[0]}{more}."
    if said.startswith("Do not pull"):
        return f"{said} {unused[0].upper()}{unused[1:]}"
    return f"Not shown: {unused} Do not pull."


def _sentence(account: Account, places: tuple[PlaceState, ...], beside: Beside, differ: str) -> str:
    uncounted = _uncounted(beside)
    if account.verdict == "free" and uncounted:
        more = f" and {len(uncounted) - 1} more" if len(uncounted) > 1 else ""
        return f"Not shown: not accounted for: {uncounted[0]}{more}. Do not pull."
    if account.verdict == "free":
        unseen = [state.label for state in places if state.mark == "not seen"]
        noted = f" Nobody has looked at {_labels(unseen)}: paper and tray speak for it." if unseen else ""
        open_ = _holders_open(beside)
        if open_:
            return f"Do not pull: {open_} No fastener found in this joint.{noted}"
        return f"No fastener found in this joint.{noted} {_holders_settled(beside)}"
    return _not_shown(account, places, differ)


def _not_shown(account: Account, places: tuple[PlaceState, ...], differ: str) -> str:
    still_in = [state for state in places if state.mark in ("in", "broken", "hollow dowel, bolt in")]
    if still_in:
        labels = _labels([state.label for state in still_in])
        count = "a fastener is" if len(still_in) == 1 else f"{len(still_in)} fasteners are"
        return f"Do not pull: {count} still in at {labels}."
    missing = [state for state in places if not state.accounted]
    if missing:
        return f"Do not pull: {_not_accounted(missing, len(places))}."
    if account.verdict == "held":
        where = f" ({differ})" if differ else ""
        return f"Do not pull: by the counts a fastener is still in{where}, and no place is known where."
    if not account.proved or account.limits:
        return "Not shown: the answer could not be proved. Do not pull."
    if account.free_cost:
        if differ:
            return f"Not shown: the counts do not agree ({differ}). Do not pull."
        return "Not shown: what people and sources say does not agree. Do not pull."
    if not account.held_cost:
        return "Not shown: nothing yet says that no fastener is in. Do not pull."
    return "Not shown: one mistake could hide a fastener. Do not pull."


def _not_accounted(missing: list[PlaceState], of: int) -> str:
    """ "2 of 9 places are not accounted for: 8 and 9"; only glanced at, if they all were."""
    labels = [state.label for state in missing]
    noun = " place" if of == 1 else f" of {of} places"
    glanced = all(state.glanced for state in missing)
    verb = ("was" if len(missing) == 1 else "were") if glanced else ("is" if len(missing) == 1 else "are")
    named = _labels(labels) if len(labels) == 1 else with_and(labels)
    which = f": {named}" if of > 1 and len(labels) <= MOST_NAMED else ""
    return f"{len(missing)}{noun} {verb} {'only glanced at' if glanced else 'not accounted for'}{which}"


def _uncounted(beside: Beside) -> list[str]:
    """Fasteners that a source or person speaks of and that no count speaks for, not settled yet."""
    return [h.name for h in beside.holders if h.sort == "fastener not counted" and not h.settled]


def _holders_open(beside: Beside) -> str:
    """The other holders that keep it from clear, in a sentence; empty when none do."""
    open_ = [holder.name for holder in beside.holders if not holder.settled]
    if not beside.holders and not beside.holders_asked:
        return "nobody has listed what else holds it."
    if not open_:
        return ""
    named = (
        open_ if len(open_) <= MOST_HOLDERS else [*open_[:MOST_HOLDERS], f"{len(open_) - MOST_HOLDERS} more"]
    )
    return f"{with_and(named)} not checked."


def _holders_settled(beside: Beside) -> str:
    total = len(beside.holders)
    if not total:
        return "Other holders: there are none. Clear to part."
    settled = "the only one is settled" if total == 1 else f"all {total} settled"
    return f"Other holders: {settled}. Clear to part."


def witnesses(ledger: Ledger, scene: Scene, taken_as: Iterable[TakenAs] = ()) -> tuple[str, ...]:
    """Everybody who looked, went round, took out, counted, ticked, copied a list or tied rows, by name."""
    e = scene.evidence
    looked = [look.by for look in e.looks if look.saw != "cannot see"]
    acted = [item.by for group in (e.rounds, e.acts, e.counts) for item in group]
    ticked = [step.by for step in e.steps if step.state == "done"]
    copied = [by for line in e.lines for printed in line.printed for by in printed.by]
    copied += [by for read in e.lists for by in read.by]
    said = dict.fromkeys(ledger.who(by) for by in (*looked, *acted, *ticked, *copied))
    known = {name.casefold() for name in said}
    tied = dict.fromkeys(taken.tied_by for taken in taken_as if taken.sure and taken.tied_by)
    return (*said, *(name for name in map(ledger.who, tied) if name.casefold() not in known))


def _why(account: Account, counts: CountTable, beside: Beside) -> str:
    """What the verdict rests on, in a few sentences without a formula; first the counts that differ."""
    if beside.apart:
        return ""
    if account.verdict == "free" and _uncounted(beside):
        return NOT_COUNTED
    differ = differing_counts(counts) if account.free_cost else ""
    return " ".join(words for words in (differ, _rests_on(account)) if words)


def _rests_on(account: Account) -> str:
    free, held = account.free_cost, account.held_cost
    if free is None or held is None:
        return "; ".join(account.limits)
    if account.verdict == "free":
        made = "" if not free else f"; {_made(free)} in any case"
        return f"At least {held} independent mistakes must have been made for something to hold{made}."
    if account.verdict == "held":
        needed = _count(held) if held else "none"
        made = f"at least {_count(free)} must have been made"
        return f"If nothing is in, {made}; for a fastener to be in, {needed}."
    if not held:
        return "Nothing speaks against a fastener there yet."
    if free:
        return (
            f"The sources and people do not agree: {_made(free)} in any case, and {_count(held)} "
            "would be enough for a fastener to be in."
        )
    return f"{_count(held).capitalize()} would be enough for a fastener to be in."


def _count(count: int) -> str:
    return "one mistake" if count == 1 else f"{count} mistakes"


def _made(count: int) -> str:
    return f"{_count(count)} {'was' if count == 1 else 'were'} made"


def _labels(labels: list[str]) -> str:
    return ("place " if len(labels) == 1 else "places ") + with_and(labels)


# ---- places ------------------------------------------------------------------------------------------


def _place_state(ledger: Ledger, scene: Scene, place: EvidencePlace) -> PlaceState:
    looks = [
        look for look in scene.evidence.looks
        if look.place == place.id and look.saw != "cannot see" and not is_retired(scene, look)
    ]  # fmt: skip
    mark, words, accounted = _mark_of(ledger, scene, place, looks)
    facts = [place.never_there] if place.never_there and place.never_there not in words else []
    told = [words, *(f"engine file: {fact}" for fact in (*facts, *place.found))]
    if not accounted and place.words:
        told.insert(1, place.words)
    return PlaceState(
        place.id, place.label, mark, "; ".join(told), accounted, look=not accounted,
        seen_by=_seen_by(ledger, scene, place, looks),
        glanced=any(not look.guided for look in looks),
        never_there=bool(place.never_there),
    )  # fmt: skip


def _seen_by(ledger: Ledger, scene: Scene, place: EvidencePlace, looks: list[Look]) -> tuple[str, ...]:
    """Who looked there properly or took the fastener out, each once."""
    act = scene.last_act.get(place.id)
    acted = [act.by] if act is not None and act.did == "took out" else []
    return tuple(ledger.who(by) for by in dict.fromkeys((*acted, *(x.by for x in looks if x.guided))))


def _mark_of(ledger: Ledger, scene: Scene, place: EvidencePlace, looks: list[Look]) -> tuple[Mark, str, bool]:
    seen_in = [look for look in looks if look.saw in SOMETHING_IN]
    act = scene.last_act.get(place.id)
    if place.id in scene.evidence.broken and act is None and not seen_in:
        return "broken", "said to be broken off, shank in", False
    if seen_in:
        against = [look for look in looks if look.saw not in SOMETHING_IN]
        words = "; ".join(_said(ledger, look) for look in (*seen_in, *against))
        return _mark_in(seen_in), words, False
    if act is not None and act.did == "put in":
        return "in", f"put back in by {ledger.who(act.by)}", False
    guided = [look for look in looks if look.guided]
    acted = [f"taken out by {ledger.who(act.by)}"] if act is not None else []
    if guided or acted:
        words = "; ".join([*acted, *(_said(ledger, look) for look in guided)])
        return _mark_not_in(guided), words, True
    if looks and place.never_there:
        said = "; ".join(_said(ledger, look) for look in looks)
        return _mark_not_in(looks), f"{place.never_there} {said}, a glance only", True
    if looks:
        return _mark_not_in(looks), "only glanced at: " + "; ".join(_said(ledger, x) for x in looks), False
    return "not seen", _unseen(ledger, scene, place), False


def _said(ledger: Ledger, look: Look) -> str:
    return f'{ledger.who(look.by)}: "{look.saw}"'


def _mark_in(looks: list[Look]) -> Mark:
    saws = {look.saw for look in looks}
    if SHANK_STAYS in saws:
        return "broken"
    return "hollow dowel, bolt in" if "hollow dowel, bolt in" in saws else "in"


def _mark_not_in(looks: list[Look]) -> Mark:
    saws = [look.saw for look in looks]
    if any(saw in SOLID_DOWEL for saw in saws):
        return "solid dowel"
    if "hollow dowel, empty" in saws:
        return "hollow dowel"
    if any(saw in NOTHING_IN or saw == "out" for saw in saws):
        return "out"
    return "nothing" if any(saw in NO_HOLE for saw in saws) else "out"


def _unseen(ledger: Ledger, scene: Scene, place: EvidencePlace) -> str:
    """What is known of a place at which nobody has looked."""
    kinds = {line.id: whole_kind(line.kind) for line in scene.evidence.lines}
    for step in scene.evidence.steps:
        if step.places and step_may_touch(step, place, kinds):
            where = cited(step_words(step), step.citation)
            if step.state == "done":
                return f"nobody has looked; {where} is only ticked, by {ledger.who(step.by)}"
            if step.state == "started" and not step.moment:
                return f"nobody has looked; {where} removes it, and no record says whether it was done"
            state = "begun, not ticked" if step.state == "started" else "not ticked"
            return f"nobody has looked; {where} is {state}"
    return "nobody has looked"
