"""How a joint goes together: the source's own torque, rounds and order, else general practice, called so."""

import re
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence

from lastbolt.app.general_torques import NO_GENERAL, general_of, scatter_words
from lastbolt.app.joint_names import words_of
from lastbolt.app.lengths_of_joint import heads_of, is_turned, kinds_of, lengths_of
from lastbolt.app.places_drawn import from_behind
from lastbolt.app.plan_shown import torque_words
from lastbolt.app.prepared import prepared
from lastbolt.app.torque_elsewhere import elsewhere
from lastbolt.app.torque_sizes import size_of_row
from lastbolt.planning.book import Book, EngineKind
from lastbolt.planning.force import parting_of
from lastbolt.planning.make_line import step_line
from lastbolt.planning.names import words
from lastbolt.planning.pairs import Pairs
from lastbolt.planning.refit import fastenings
from lastbolt.planning.state import Done
from lastbolt.refitting.places import at_places
from lastbolt.threads.designation import thread_of
from lastbolt.tightening.order import At, Order, Stage, loosening_order, tightening_order
from lastbolt.tightening.units_agree import both_units
from lastbolt.words.engine import Engine
from lastbolt.words.job import Job
from lastbolt.words.joint import JointPlace, Walk
from lastbolt.words.lengths import Placing
from lastbolt.words.machine import Machine, TorqueValue
from lastbolt.words.place_runs import listed
from lastbolt.words.plan import Fastening, Plan, RequiredBy
from lastbolt.words.quantity import Kind
from lastbolt.words.torque_map import MapPlace, Round, TorqueMap

_RUN = re.compile(r"\s*:?\s*((?:\d+[a-z]?)(?:\s*(?:,|–|-|then|and)\s*\d+[a-z]?)+)", re.I)
ROUND_OFF = 3
HOLDING = ("in", "slack", "stage", "final")


def torque_map(
    walk: Walk, plan: Plan, machine: Machine, engine: Engine | None = None, job: Job | None = None
) -> TorqueMap:
    """The map of one joint that the plan parts.

    What the sources say of it is shown as it stands. The general value is only shown where they say nothing,
    for one thread of one class, and never as the maker's.
    """
    machine = prepared(machine)
    kinds = kinds_of(walk, machine, job)
    own = tuple(_own(walk, plan, machine))
    places, to_come = _places(walk, kinds, engine, job, _listed(own))
    if not places:
        return TorqueMap(
            walk.joint, walk.name, (), walk.outline_mm, no_value="no place of the joint has a screw"
        )
    said = [item for item in own if item.step and _values(item)]
    values = [value for item in said for value in _values(item)]
    unsure = tuple(_unsure(said, values, machine))
    # Which of several holds is for a person to say: then none of them is taken for a round.
    rounds: Sequence[TorqueValue] = () if unsure else values
    given = tuple(_given(own, places))
    order = tightening_order(
        [_at(place) for place in places], given, _last_Nm(rounds), fractions=_fractions(rounds)
    )
    general = NO_GENERAL if values else general_of(places, kinds, plan, machine)
    lengths = lengths_of(walk, machine, engine, job, to_come)
    labels = {place.id: place.label or place.id for place in places}
    others = elsewhere(
        [(labels[one], kinds.get(one)) for one in order.unnamed],
        [kinds.get(one.id) for one in places if one.id not in order.unnamed], machine, plan,
    )  # fmt: skip
    return TorqueMap(
        walk.joint, walk.name, tuple(_on_map(places, order, lengths, to_come, kinds)), walk.outline_mm,
        tuple(_rounds(order.stages, labels, rounds)), _named(order.lap, labels),
        tuple(_rounds(loosening_order(order).stages, labels, ())),
        "; ".join(torque_words(value) for value in values) or general.words,
        "the source" if values else general.source,
        _order_words(order, labels, others), general.why_not, lengths,
        (*unsure, *_doubts(values), *(one.words for one in heads_of(walk, job)),
         *_none_yet(to_come, labels), *_wrong(lengths, labels)),
        tuple(f"{label}: {words}" for label, words in others.items()),
        scatter_words(places, kinds, values, machine) if values else general.scatter,
        tuple(one for item in said for one in item.citations[:1]) or general.citations,
    )  # fmt: skip


def _own(walk: Walk, plan: Plan, machine: Machine) -> Iterator[Fastening]:
    """What the sources say of fitting the joint's fasteners, also where its section was ticked whole."""
    parted = parting_of(plan, words_of(walk))
    yield from (item for item in plan.way_back.fastenings if item.of in parted)
    told = {item.of for item in plan.way_back.fastenings if item.step}
    book = Book(machine, EngineKind(plan.variant, plan.serial))
    lines = [
        step_line(step, book.procedures[one], 0, Done(), RequiredBy("goal"))
        for one in parted
        if one not in told and one in book.procedures
        for step in book.procedures[one].steps
        if book.applies(step.applies) != "no"
    ]
    yield from fastenings(lines, machine, Pairs(machine), parted, size_of_row)


def _places(
    walk: Walk, kinds: Mapping[str, Kind], engine: Engine | None, job: Job | None, listed: Container[str]
) -> tuple[list[JointPlace], frozenset[str]]:
    """The places that take a screw, and those among them for which one has to come: they were found empty,
    but the source or the engine's own file says what belongs there."""
    facts = engine.as_found if engine else ()
    missing = {one.place: one for one in facts if one.what == "missing" and one.place}
    put_in = {one.place for one in at_places((walk,), engine, job) if one.state in HOLDING}
    places = [
        one
        for one in walk.places
        if one.ends
        and is_turned(kinds.get(one.id, one.kind))
        and (
            (fact := missing.get(one.id)) is None
            or bool(fact.line or fact.kind)
            or one.id in put_in
            or (one.label or one.id).casefold() in listed
        )
    ]
    return places, frozenset(one.id for one in places if one.id in missing and one.id not in put_in)


def _none_yet(to_come: Container[str], labels: Mapping[str, str]) -> Iterator[str]:
    named = [label for place, label in labels.items() if place in to_come]
    if len(named) == 1:
        yield f"{named[0]} has no screw yet: a new one is to come. Its turn stands."
    elif named:
        yield f"{listed(named)} have no screw yet: new ones are to come. Their turns stand."


def _wrong(lengths: Placing | None, labels: Mapping[str, str]) -> Iterator[str]:
    """Lengths that went in where they do not belong."""
    for one in lengths.placed if lengths else ():
        if one.is_in and (one.fit.says in ("bottoms", "short") or (one.length_mm and not one.as_said)):
            yield f"{labels.get(one.place, one.place)}: {one.length_mm:g} mm {one.why}."


def _order_words(order: Order, labels: Mapping[str, str], others: Mapping[str, str]) -> str:
    """Whose order it is; of places that the source leaves out what else the sources say."""
    words = order.words
    if order.unnamed:
        words = words.replace(", ".join(order.unnamed), listed([labels[one] for one in order.unnamed]))
        if all(labels[one] in others for one in order.unnamed):
            words = words.replace("ask, nothing is made up for them", "tightened elsewhere")
    return f"{words} [{order.source}]"


def _values(item: Fastening) -> tuple[TorqueValue, ...]:
    return tuple(value for value in item.torques if value.torque_Nm is not None and not value.limit)


def _unsure(said: Iterable[Fastening], values: Sequence[TorqueValue], machine: Machine) -> Iterator[str]:
    """Why the torques are not simply one after the other: each holds in a case of its own, or was doubted."""
    cases = dict.fromkeys(value.condition for value in values if value.condition)
    if cases:
        yield f"Which of them holds? It depends: {', '.join(cases)}."
    doubts = {step.id: step.doubt for one in machine.procedures for step in one.steps if step.doubt}
    for item in said:
        if item.step in doubts:
            yield f"The step that gives it is read with doubt: {doubts[item.step]}"


def _last_Nm(values: Sequence[TorqueValue]) -> float | None:
    last = values[-1].torque_Nm if values else None
    return last[1] if last else None


def _fractions(values: Sequence[TorqueValue]) -> list[float] | None:
    """The rounds of the source as shares of its last torque; one alone is one round."""
    tops = [value.torque_Nm[1] for value in values if value.torque_Nm]
    if not tops:
        return None
    if len(tops) == 1 or tops != sorted(tops) or tops[0] <= 0:
        return [1.0]
    return [round(top / tops[-1], ROUND_OFF) for top in tops]


def _listed(own: Iterable[Fastening]) -> tuple[str, ...]:
    """The order that a step lists, as it is printed: "in the order 13, 11, 14"."""
    for item in own:
        for phrase in words()["stages"]["listed_behind"]:
            at = item.words.casefold().find(phrase)
            run = _RUN.match(item.words, at + len(phrase)) if at >= 0 else None
            if run is not None:
                return tuple(dict.fromkeys(re.findall(r"\d+[a-z]?", run[1].casefold())))
    return ()


def _given(own: Iterable[Fastening], places: Sequence[JointPlace]) -> Iterator[str]:
    """The order that a step lists, as ids of places."""
    ids = {(place.label or place.id).casefold(): place.id for place in places}
    yield from (ids[one] for one in _listed(own) if one in ids)


def _at(place: JointPlace) -> At:
    end = place.ends[0]
    thread = thread_of(place.kind.thread) if place.kind and place.kind.thread else None
    return At(place.id, end.x_mm, end.y_mm, thread.major_mm if thread else None)


def _on_map(
    places: Sequence[JointPlace],
    order: Order,
    lengths: Placing | None,
    to_come: Container[str],
    kinds: Mapping[str, Kind],
) -> Iterator[MapPlace]:
    line = order.stages[-1].places if order.stages else ()
    turn = {place: number for number, place in enumerate(line, 1)}
    found = {one.place: one.length_mm for one in lengths.placed} if lengths else {}
    wanted = {one.place for one in lengths.placed if one.to_come} if lengths else set()
    for place in places:
        end = place.ends[0]
        kind = kinds.get(place.id)
        said = kind.length_mm if kind else None
        new = place.id in to_come or place.id in wanted
        length = said if new else found.get(place.id, said)
        shown = "x?" if length is None and place.id in found else f"x{length:g}" if length else ""
        behind = from_behind(place)
        yield MapPlace(
            place.id, place.label or place.id, end.x_mm, end.y_mm, turn.get(place.id, 0),
            f"{shown} new".strip() if new else shown, behind, place.id in to_come,
        )  # fmt: skip


def _rounds(
    stages: Iterable[Stage], labels: dict[str, str], values: Sequence[TorqueValue]
) -> Iterator[Round]:
    for stage in stages:
        said = torque_words(values[stage.number - 1]) if 0 < stage.number <= len(values) else stage.words
        yield Round(stage.number, said, _named(stage.places, labels))


def _named(places: Iterable[str], labels: dict[str, str]) -> tuple[str, ...]:
    return tuple(labels.get(place, place) for place in places)


def _doubts(values: Iterable[TorqueValue]) -> Iterator[str]:
    """Printed units that do not convert into each other: neither is used until somebody has looked."""
    for value in values:
        printed = tuple((low, high, unit) for low, high, unit in value.printed)
        if len(printed) > 1 and not (agreed := both_units(printed)).agree:
            yield agreed.words
