"""Explanations as named suspicions, and the certificate in sentences, each with what it rests on."""

import re
from typing import NamedTuple

from lastbolt.tally.build_papers import line_words, step_words
from lastbolt.tally.build_people import Scene, is_retired
from lastbolt.tally.last_looks import seen_in_last
from lastbolt.tally.layout import NOWHERE_LISTED
from lastbolt.tally.ledger import Ledger, cited
from lastbolt.tally.wording_counts import quantity_words
from lastbolt.words.answer import Suspicion
from lastbolt.words.citation import Citation
from lastbolt.words.claims import Account, ClaimSet, Group, HolderProof
from lastbolt.words.evidence import Line, StepSaid
from lastbolt.words.joint import SOMETHING_IN
from lastbolt.words.place_runs import at_places, listed, with_and

MOST_LINES = 3
MOST_WAYS = 3
MOST_CITATIONS = 8


class _MayHold(NamedTuple):
    """How something may still hold at one place: what is known there, and what would have to be wrong."""

    spot: str
    story: str
    mistakes: int
    citations: tuple[Citation, ...]
    ways: str
    ways_there: str


def suspicions(ledger: Ledger, scene: Scene, claims: ClaimSet, account: Account) -> tuple[Suspicion, ...]:
    """Where something could still hold, cheapest first, then why the sources disagree in any case."""
    cause_words = {cause.id: cause.words or cause.id for cause in claims.causes}
    by_spot: dict[str, list[Group]] = {}
    for group in account.held if account.verdict != "free" else ():
        for spot in _spots_in(scene, group):
            by_spot.setdefault(spot, []).append(group)
    merged: dict[tuple[str, str], list[_MayHold]] = {}
    for spot, groups in by_spot.items():
        made = _may_hold(ledger, scene, spot, groups, cause_words)
        merged.setdefault((_there(made.story, ledger, spot), made.ways_there), []).append(made)
    ordered = sorted((_told(ledger, alike) for alike in merged.values()), key=lambda told: told.mistakes)
    return (*ordered, *_disagreements(account, cause_words))


def _spots_in(scene: Scene, group: Group) -> list[str]:
    pieces = [scene.layout.pieces[name] for name, count in group.first.state if count]
    return list({piece.spot: None for piece in pieces if piece.side == "in" and piece.spot != "else"})


def _name(ledger: Ledger, spot: str) -> str:
    return "a place that nobody listed" if spot == NOWHERE_LISTED else ledger.label(spot)


def _there(words: str, ledger: Ledger, spot: str) -> str:
    """The words with "that place" for its name: "place 1", and not the beginning of "place 12"."""
    return re.sub(rf"{re.escape(_name(ledger, spot))}(?!\w)", "that place", words)


def _told(ledger: Ledger, alike: list[_MayHold]) -> Suspicion:
    """Places of which the same is known, as one suspicion."""
    first, about = alike[0], tuple(one.spot for one in alike)
    one = len(about) == 1
    name = _name(ledger, first.spot)
    where = f"{name[0].upper()}{name[1:]}" if one else at_places([ledger.labels.get(p) or p for p in about])
    return Suspicion(
        f"{where}: {first.story}",
        first.mistakes,
        "may hold",
        about,
        first.citations,
        first.ways if one else first.ways_there,
        where,
        first.ways_there,
    )


def _may_hold(
    ledger: Ledger, scene: Scene, spot: str, groups: list[Group], cause_words: dict[str, str]
) -> _MayHold:
    cost = min(group.first.cost for group in groups)
    ways = [group.first.causes for group in groups if group.first.cost == cost]
    lines = _lines_there(scene, spot)
    parts = [_seen_there(ledger, scene, spot), *place_sentences(scene, spot)]
    citations: list[Citation] = []
    for line in lines[:MOST_LINES]:
        parts += [_line_sentence(line), *_other_prints(line), *_remarks(line)]
        citations += [line.citation] if line.citation else []
    for words, citation in _removed(ledger, scene, spot, lines):
        parts.append(words)
        citations += [citation] if citation else []
    for line in lines[:MOST_LINES]:
        citations += [printed.citation for printed in line.printed if printed.citation]
    cited_at = tuple(dict.fromkeys(citations))[:MOST_CITATIONS]
    told = _ways(ways, cause_words, cost)
    story = " ".join(part for part in parts if part)
    return _MayHold(spot, story, cost, cited_at, told, _there(told, ledger, spot))


def _seen_there(ledger: Ledger, scene: Scene, spot: str) -> str:
    if spot == NOWHERE_LISTED:
        rounds = list({ledger.who(round_.by): None for round_ in scene.evidence.rounds})
        return (
            f"{with_and(rounds)} went round and found none."
            if rounds
            else "nobody has gone round for more places."
        )
    looks = [x for x in scene.evidence.looks if x.place == spot and x.saw != "cannot see"]
    last_in = seen_in_last(scene, spot)
    if last_in is not None and is_retired(scene, last_in):
        return f'{_says(ledger.who(last_in.by))} "{last_in.saw}", and nobody has looked since.'
    looks = [look for look in looks if not is_retired(scene, look)]
    if not looks:
        return (
            "taken out by the record, nobody has looked since."
            if spot in scene.last_act
            else "nobody has looked."
        )
    seen_in = [look for look in looks if look.saw in SOMETHING_IN]
    told = seen_in or looks
    said = with_and([f'{_says(ledger.who(look.by))} "{look.saw}"' for look in told])
    glance = "" if any(look.guided or look.saw in SOMETHING_IN for look in told) else ", a glance only"
    return f"{said}{glance}."


def _says(who: str) -> str:
    return f"{who} say" if who == "you" else f"{who} says"


def _lines_there(scene: Scene, spot: str) -> list[Line]:
    """The listed lines whose pieces may be there: those naming the place, else by size."""
    place = scene.places.get(spot)
    if place is None:
        return [line for line in scene.evidence.lines if line.rest_of_list]
    ids = {line.id for line in scene.layout.lines_at(spot) if line.listed and not line.unnamed}
    lines = [line for line in scene.evidence.lines if line.id in ids]
    named = [line for line in lines if spot in line.places or line.id in place.lines]
    if not named:
        # A line whose own places are all known elsewhere is the last to think of here.
        lines = [line for line in lines if not (line.places and line.belongs == "wholly")] or lines
    if named or place.kind is None:
        return named or (lines if len(lines) <= MOST_LINES else [])
    return [line for line in lines if place.kind.matches(line.kind) != "no"]


def _line_sentence(line: Line) -> str:
    tie = {"wholly": "", "partly": ", partly this joint's", "maybe": ", which may belong here"}[line.belongs]
    if not line.printed:
        words = line_words(line)
        return words[0].upper() + words[1:] if words.endswith(".") else f"{words} fits{tie}."
    printed = line.printed[0]
    count = quantity_words(printed.quantity)
    where = cited(line.words or printed.source, printed.citation or line.citation)
    if line.words.startswith('"'):
        return f"The list has {where}{tie}."
    return f"{where} lists {count} x {line.kind.words()}{tie}."


def _steps_there(scene: Scene, spot: str, lines: list[Line]) -> list[StepSaid]:
    ids = {line.id for line in lines}
    return [
        step
        for step in scene.evidence.steps
        if spot in step.places or (not step.places and step.line is not None and step.line in ids)
    ]


def _removed(ledger: Ledger, scene: Scene, spot: str, lines: list[Line]) -> list[tuple[str, Citation | None]]:
    """Which step removes what of the lines there; one line is "it", several are called by their sizes."""
    sizes = {line.id: line.kind.words() for line in lines}
    told: dict[str, Citation | None] = {}
    for step in _steps_there(scene, spot, lines):
        what = f"the {sizes[step.line]}" if len(lines) > 1 and step.line in sizes else "it"
        told.setdefault(_step_sentence(ledger, scene, step, spot, what), step.citation)
    return list(told.items())


def _step_sentence(ledger: Ledger, scene: Scene, step: StepSaid, spot: str, what: str) -> str:
    where = cited(step_words(step), step.citation)
    where = where[0].upper() + where[1:]
    looked = any(look.place == spot and look.saw != "cannot see" for look in scene.evidence.looks)
    if step.state == "done" and step.looked:
        return f"{where} removes {what}; that step is ticked by {ledger.who(step.by)}, who looked."
    if step.state == "done":
        tail = "" if looked else "; nobody has looked"
        return f"{where} removes {what}; that step is only ticked, by {ledger.who(step.by)}{tail}."
    if step.state == "started":
        state = "that step was begun and not ticked" if step.moment else "no record says whether it was done"
        return f"{where} removes {what}; {state}."
    return f"{where} removes {what}; that step is not ticked."


def place_sentences(scene: Scene, spot: str) -> list[str]:
    """From which side its fastener enters, what it lies under, what walk and engine file note there."""
    place = scene.places.get(spot)
    if place is None:
        return []
    words = f"{place.words[0].upper()}{place.words[1:]}." if place.words else ""
    note = f'Noted on the walk: "{place.note}".' if place.note else ""
    facts = [f"Engine file: {fact.rstrip('.')}." for fact in place.found]
    return [part for part in (words, note, *facts) if part]


def _other_prints(line: Line) -> list[str]:
    """What else is printed of the line, where another source has another count or size."""
    if not line.printed:
        return []
    first = line.printed[0].quantity
    return [
        f"{cited(other.source, other.citation)} has {quantity_words(other.quantity)} x "
        f"{(other.kind or line.kind).words()}."
        for other in line.printed[1:]
        if other.kind is not None or (other.quantity.low, other.quantity.high) != (first.low, first.high)
    ]


def _remarks(line: Line) -> list[str]:
    said = [f'"{remark}"' for remark in line.remarks]
    return [f"Beside it stands {with_and(said)}."] if said else []


def _ways(ways: list[tuple[str, ...]], cause_words: dict[str, str], cost: int) -> str:
    told = [with_and([cause_words[cause] for cause in way]) for way in ways[:MOST_WAYS] if way]
    if not told:
        return "Nothing speaks against one there yet."
    more = f", or {len(ways) - MOST_WAYS} other ways" if len(ways) > MOST_WAYS else ""
    weight = "" if cost else "; a glance counts for little"
    return f"One could be there if {', or if '.join(told)}{more}{weight}."


def _disagreements(account: Account, cause_words: dict[str, str]) -> tuple[Suspicion, ...]:
    if not account.free_cost:
        return ()
    made = "one mistake was" if account.free_cost == 1 else f"{account.free_cost} mistakes were"
    cheapest = [group.first for group in account.free if group.first.cost == account.free_cost]
    ways = [with_and([cause_words[cause] for cause in found.causes]) for found in cheapest[:MOST_WAYS]]
    more = ", or another" if len(cheapest) > MOST_WAYS else ""
    words = f"Even if nothing holds, {made} made: {'; or '.join(ways)}{more}."
    return (Suspicion(words, account.free_cost, "disagreement"),)


def certificate_words(ledger: Ledger, scene: Scene, claims: ClaimSet, account: Account) -> tuple[str, ...]:
    """For each place, what would all have to be wrong for something still to hold there."""
    certificate = account.certificate
    if account.verdict != "free" or certificate is None:
        return ()
    said = {claim.id: _once(claim.words) for claim in claims.claims if claim.causes}
    unlisted = {line.id for line in scene.layout.lines if not line.listed}
    grouped: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for proof in certificate.proofs:
        pieces = [scene.layout.pieces[name] for name in proof.holders]
        no_row = all(piece.line in unlisted for piece in pieces)
        what = "For a fastener of no row to be at" if no_row else "For something still to hold at"
        for spot in dict.fromkeys(piece.spot for piece in pieces):
            stands = tuple(_there(one, ledger, spot) for one in _stands(proof, said))
            grouped.setdefault((what, stands), []).append(spot)
    alike: dict[tuple[str, str, tuple[int, ...], str], list[tuple[str, ...]]] = {}
    for (what, stands), spots in grouped.items():
        first = next((one for one in stands if "that place" in one), "")
        shape = tuple(one.count(" or ") for one in stands)
        key = (what, _spot_words(ledger, spots), shape, first if len(stands) == 2 else " ".join(stands))
        alike.setdefault(key, []).append(stands)
    sentences = [f"{key[0]} {key[1]}, {_all_wrong(told[0])}{_likewise(told)}" for key, told in alike.items()]
    if certificate.exhaustive_up_to is not None:
        limit = certificate.exhaustive_up_to
        sentences.append(
            f"For the rest every combination of {limit} mistakes was tried: none lets anything hold."
        )
    return tuple(sentences)


def _once(words: str) -> str:
    """A typed row is not said twice."""
    return re.sub(r'^"(.+?)": \1(?= \()', r'"\1"', words)


def _likewise(told: list[tuple[str, ...]]) -> str:
    """The typed rows of which the same is said, but for their own numbers."""
    rows = [found[0] for stands in told[1:] for one in stands if (found := re.match(r'"[^"]+"', one))]
    if len(rows) == len(told) - 1:
        return f" Likewise for {with_and(rows)}." if rows else ""
    return "".join(f" Or {_all_wrong(stands)}" for stands in told[1:])


def _spot_words(ledger: Ledger, spots: list[str]) -> str:
    known = [ledger.labels.get(spot) or spot for spot in dict.fromkeys(spots) if spot != NOWHERE_LISTED]
    names = []
    if known:
        names.append(f"place {known[0]}" if len(known) == 1 else f"any of places {listed(known)}")
    if NOWHERE_LISTED in spots:
        names.append("a place that nobody listed")
    return " or ".join(names)


def _stands(proof: HolderProof, said: dict[str, str]) -> tuple[str, ...]:
    """What each conflict of the proof rests on: statements of which at least one is wrong."""
    stands: list[str] = []
    for rows in proof.multipliers:
        ids = [row.removeprefix("claim:") for row, _, _ in rows if row.startswith("claim:")]
        names = list(dict.fromkeys(said[name] for name in ids if name in said))
        stands.append(" or ".join(names) if names else "the joint itself")
    return tuple(stands)


def _all_wrong(stands: tuple[str, ...]) -> str:
    """ "all of these would have to be wrong: ...; and ..."."""
    if len(stands) == 2:
        return f"both would have to be wrong: {stands[0]}; and {stands[1]}."
    return f"all {len(stands)} would have to be wrong: {'; and '.join(stands)}."
