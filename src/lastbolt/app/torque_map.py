"""How a joint goes together: the source's own torque, rounds and order, else general practice, called so."""

import re
from collections.abc import Iterable, Iterator, Sequence

from lastbolt.app.joint_names import words_of
from lastbolt.app.lengths_of_joint import heads_of, is_turned, lengths_of
from lastbolt.app.plan_shown import torque_words
from lastbolt.planning.force import parting_of
from lastbolt.planning.names import words
from lastbolt.threads.designation import thread_of
from lastbolt.tightening.general import NoGeneralTorque, general_torque
from lastbolt.tightening.order import At, Order, Stage, loosening_order, tightening_order
from lastbolt.tightening.units_agree import both_units
from lastbolt.words.engine import Engine
from lastbolt.words.job import Job
from lastbolt.words.joint import JointPlace, Walk
from lastbolt.words.lengths import Placing
from lastbolt.words.machine import Machine, TorqueValue
from lastbolt.words.plan import Fastening, Plan
from lastbolt.words.torque_map import MapPlace, Round, TorqueMap

_RUN = re.compile(r"\s*:?\s*((?:\d+[a-z]?)(?:\s*(?:,|–|-|then|and)\s*\d+[a-z]?)+)", re.I)
ROUND_OFF = 3


def torque_map(
    walk: Walk, plan: Plan, machine: Machine, engine: Engine | None = None, job: Job | None = None
) -> TorqueMap:
    """The map of one joint that the plan parts.

    What the sources say of it is shown as it stands. The general value is only shown where they say nothing,
    for one thread of one class, and never as the maker's.
    """
    missing = engine.missing_places() if engine else frozenset()
    places = [one for one in walk.places if one.ends and is_turned(one.kind) and one.id not in missing]
    if not places:
        return TorqueMap(
            walk.joint, walk.name, (), walk.outline_mm, no_value="no place of the joint has a screw"
        )
    parted = parting_of(plan, words_of(walk))
    own = [item for item in plan.way_back.fastenings if item.of in parted]
    said = [item for item in own if item.step and _values(item)]
    values = [value for item in said for value in _values(item)]
    unsure = tuple(_unsure(said, values, machine))
    # Which of several holds is for a person to say: then none of them is taken for a round.
    rounds: Sequence[TorqueValue] = () if unsure else values
    given = tuple(_given(own, places))
    order = tightening_order(
        [_at(place) for place in places], given, _last_Nm(rounds), fractions=_fractions(rounds)
    )
    general, no_value = ("", "") if values else _general(places, plan)
    lengths = lengths_of(walk, machine, engine, job)
    labels = {place.id: place.label or place.id for place in places}
    return TorqueMap(
        walk.joint, walk.name, tuple(_on_map(places, order, lengths)), walk.outline_mm,
        tuple(_rounds(order.stages, labels, rounds)), _named(order.lap, labels),
        tuple(_rounds(loosening_order(order).stages, labels, ())),
        "; ".join(torque_words(value) for value in values) or general,
        "the source" if values else "general practice, not the maker's" if general else "",
        f"{order.words} [{order.source}]", no_value, lengths,
        (*unsure, *_doubts(values), *(one.words for one in heads_of(walk, job))),
        tuple(one for item in said for one in item.citations[:1]),
    )  # fmt: skip


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


def _given(own: Iterable[Fastening], places: Sequence[JointPlace]) -> Iterator[str]:
    """The order that a step lists, as ids of places: "in the order 13, 11, 14"."""
    ids = {(place.label or place.id).casefold(): place.id for place in places}
    for item in own:
        for phrase in words()["stages"]["listed_behind"]:
            at = item.words.casefold().find(phrase)
            run = _RUN.match(item.words, at + len(phrase)) if at >= 0 else None
            if run is not None:
                named = re.findall(r"\d+[a-z]?", run[1].casefold())
                yield from dict.fromkeys(ids[one] for one in named if one in ids)
                return


def _at(place: JointPlace) -> At:
    end = place.ends[0]
    thread = thread_of(place.kind.thread) if place.kind and place.kind.thread else None
    return At(place.id, end.x_mm, end.y_mm, thread.major_mm if thread else None)


def _general(places: Sequence[JointPlace], plan: Plan) -> tuple[str, str]:
    """The general value in words, or why there is none."""
    kinds = {(p.kind.thread, p.kind.strength, p.metal) for p in places if p.kind}
    if len(kinds) != 1:
        return "", "no source gives a torque, and the joint has fasteners of several sizes or classes"
    ((thread_words, strength, metal),) = kinds
    thread = thread_of(thread_words) if thread_words else None
    if thread is None or not strength:
        return (
            "",
            "no source gives a torque, and no source or person tells the strength class of the fasteners",
        )
    found = general_torque(thread, strength, "unknown", plan.goal, metal)
    if isinstance(found, NoGeneralTorque):
        return "", f"no source gives a torque, and no general one is shown: {found.why}"
    return f"about {found.torque_Nm:.0f} N·m ({found.words}) [{found.source}]", ""


def _on_map(places: Sequence[JointPlace], order: Order, lengths: Placing | None) -> Iterator[MapPlace]:
    line = order.stages[-1].places if order.stages else ()
    turn = {place: number for number, place in enumerate(line, 1)}
    found = {one.place: one.length_mm for one in lengths.placed} if lengths else {}
    for place in places:
        end = place.ends[0]
        said = place.kind.length_mm if place.kind else None
        length = found.get(place.id, said)
        shown = "x?" if length is None and place.id in found else f"x{length:g}" if length else ""
        behind = all(one.side == "far" or one.form.startswith("blind") for one in place.ends)
        yield MapPlace(
            place.id, place.label or place.id, end.x_mm, end.y_mm, turn.get(place.id, 0),
            shown, behind,
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
