"""Limits in the score: every harm done to a model that has them all is seen, in tables and in steps."""

from __future__ import annotations

from collections.abc import Callable

import msgspec
import pytest

from lastbolt.words.machine import Machine
from lastbolt.words.measured import Limit, Span
from styles.counts import Count
from styles.made import make
from styles.score import score
from styles.score_limits import differs
from styles.test_score import perfect
from styles.truth import TrueLimit, Truth

MM = 25.4
TOLD = TrueLimit("c1", "3", "bore", (12.8, 12.82), 12.75, "12.80-12.82 mm, not less than 12.75 mm")
UNTOLD = TrueLimit("limits", "", "Brake disc, thickness", (73.01, 73.04), 72.91, "73.01-73.04")
IN_INCHES = TrueLimit("limits", "", "Cam, bore", (25.4, 25.4254), 25.3492, "1.0000-1.0010", 0.00005 * MM)
CAM = Limit("l", "Cam, bore", "bore", "Cam", Span(25.4, 25.4254, "mm"), Span(25.3492, None, "mm"), "at least")
BORE = Limit(
    "l", "bore of the cam", "bore", "cam", Span(12.8, 12.82, "mm"), Span(12.75, None, "mm"), "at least"
)
DISC = Limit(
    "l", "Brake disc, thickness", "thickness", "Brake disc", Span(73.01, 73.04, "mm"),
    Span(72.91, None, "mm"), "at least",
)  # fmt: skip


@pytest.fixture(scope="module", params=["style_1", "style_3", "style_9"])
def truth(request: pytest.FixtureRequest) -> Truth:
    return make(str(request.param), 4).truth


def _table(machine: Machine, limits: tuple[Limit, ...]) -> Machine:
    return msgspec.structs.replace(machine, limits=limits)


def _in_a_step(machine: Machine, change: Callable[[tuple[Limit, ...]], tuple[Limit, ...]]) -> Machine:
    """The model with the limits of the first step that has any changed."""
    procedures = list(machine.procedures)
    for p, procedure in enumerate(procedures):
        steps = list(procedure.steps)
        for s, step in enumerate(steps):
            if step.limits:
                steps[s] = msgspec.structs.replace(step, limits=change(step.limits))
                procedures[p] = msgspec.structs.replace(procedure, steps=tuple(steps))
                return msgspec.structs.replace(machine, procedures=tuple(procedures))
    raise AssertionError("no limit in a step")


def _limits(machine: Machine, truth: Truth) -> Count:
    return score(machine, truth).counts["limits"]


def _worse(one: Limit) -> Limit:
    """A wear limit of a hundredth less."""
    assert one.limit is not None
    assert one.limit.low is not None
    return msgspec.structs.replace(one, limit=Span(round(one.limit.low - 0.01, 4), None, "mm"))


def test_all_limits_are_compared(truth: Truth) -> None:
    count = _limits(perfect(truth), truth)
    true = len(truth.limits)
    assert (count.true, count.found, count.read, count.right) == (true, true, true, true)
    assert {one.section == "limits" for one in truth.limits} == {True, False}


def test_a_wrong_value_is_a_miss_and_an_invention(truth: Truth) -> None:
    machine = perfect(truth)
    true = len(truth.limits)
    first, *rest = machine.limits
    for harmed in (
        _table(machine, (_worse(first), *rest)),
        _in_a_step(machine, lambda limits: (_worse(limits[0]), *limits[1:])),
    ):
        total = score(harmed, truth)
        count = total.counts["limits"]
        assert (count.true, count.found, count.read, count.right) == (true, true - 1, true, true - 1)
        assert [one.what for one in total.misses] == ["read with another limit", "no such limit there"]


def test_a_missing_one_lowers_recall_alone(truth: Truth) -> None:
    machine = perfect(truth)
    true = len(truth.limits)
    for harmed in (_table(machine, machine.limits[1:]), _in_a_step(machine, lambda limits: limits[1:])):
        total = score(harmed, truth)
        count = total.counts["limits"]
        assert (count.found, count.read, count.right) == (true - 1, true - 1, true - 1)
        assert [(one.kind, one.what) for one in total.misses] == [("limits", "missed")]


def test_an_invented_one_and_one_read_twice_lower_precision(truth: Truth) -> None:
    machine = perfect(truth)
    true = len(truth.limits)
    invented = msgspec.structs.replace(machine.limits[0], what="Ornament, gloss", part="", measure="")
    for harmed in (
        _table(machine, (*machine.limits, invented)),
        _table(machine, (*machine.limits, machine.limits[0])),
        _in_a_step(machine, lambda limits: (*limits, limits[0])),
        _in_a_step(machine, lambda limits: (*limits, invented)),
    ):
        count = _limits(harmed, truth)
        assert (count.found, count.read, count.right) == (true, true + 1, true)


def test_one_at_a_procedure_that_is_no_section_of_the_manual_counts_as_read(truth: Truth) -> None:
    machine = perfect(truth)
    at = next(one for one in machine.procedures if any(step.limits for step in one.steps))
    more = [
        msgspec.structs.replace(at, id=f"p/none{n}", number="", title="Of another book", citations=())
        for n in (1, 2)
    ]
    count = _limits(msgspec.structs.replace(machine, procedures=(*machine.procedures, *more)), truth)
    held = sum(len(step.limits) for step in at.steps)
    assert (count.found, count.read - count.right) == (count.true, 2 * held)


def test_one_of_a_step_held_as_of_a_table_is_at_the_wrong_place(truth: Truth) -> None:
    machine = perfect(truth)
    moved: list[Limit] = []

    def out(limits: tuple[Limit, ...]) -> tuple[Limit, ...]:
        moved.extend(limits)
        return ()

    harmed = _in_a_step(machine, out)
    count = _limits(_table(harmed, (*harmed.limits, *moved)), truth)
    assert count.true - count.found == count.read - count.right == len(moved)


@pytest.mark.parametrize(
    ("read", "true", "wrong"),
    [
        (BORE, TOLD, ()),
        (DISC, UNTOLD, ()),
        (CAM, IN_INCHES, ()),
        (msgspec.structs.replace(BORE, part="", measure=""), TOLD, ()),
        (msgspec.structs.replace(DISC, part="Cam"), UNTOLD, ("name",)),
        (msgspec.structs.replace(DISC, measure="diameter"), UNTOLD, ("name",)),
        (msgspec.structs.replace(DISC, what="Armature, diameter", part="", measure=""), UNTOLD, ("name",)),
        (msgspec.structs.replace(DISC, standard=None), UNTOLD, ("standard",)),
        (msgspec.structs.replace(DISC, standard=Span(73.01, 73.05, "mm")), UNTOLD, ("standard",)),
        (msgspec.structs.replace(DISC, standard=Span(73.01, None, "mm")), UNTOLD, ("standard",)),
        (msgspec.structs.replace(DISC, standard=Span(73.012, 73.038, "mm")), UNTOLD, ()),
        (msgspec.structs.replace(DISC, standard=Span(73.01, 73.04, "in")), UNTOLD, ("standard",)),
        (msgspec.structs.replace(DISC, limit=None), UNTOLD, ("limit",)),
        (msgspec.structs.replace(DISC, limit=Span(72.91, None, "")), UNTOLD, ("limit",)),
        (msgspec.structs.replace(CAM, limit=Span(25.3516, None, "mm")), IN_INCHES, ("limit",)),
        (msgspec.structs.replace(CAM, limit=Span(25.3503, None, "mm")), IN_INCHES, ()),
    ],
)
def test_what_differs_is_named(read: Limit, true: TrueLimit, wrong: tuple[str, ...]) -> None:
    assert differs(read, true) == wrong


def test_the_sense_must_be_read_where_words_tell_it() -> None:
    """ "Not less than" tells the side; a number under "Limit" does not: it may be left open, not turned."""
    both = Span(12.75, 12.75, "mm")
    assert differs(msgspec.structs.replace(BORE, limit=both, sense=""), TOLD) == ("sense",)
    assert differs(msgspec.structs.replace(DISC, limit=Span(72.91, 72.91, "mm"), sense=""), UNTOLD) == ()
    turned = msgspec.structs.replace(DISC, limit=Span(None, 72.91, "mm"), sense="at most")
    assert differs(turned, UNTOLD) == ("sense",)
    between = msgspec.structs.replace(DISC, limit=Span(72.91, 72.91, "mm"), sense="between")
    assert differs(between, UNTOLD) == ("sense",)
