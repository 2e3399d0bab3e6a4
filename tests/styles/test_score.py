"""The scorer itself: a model that says the whole truth gets full marks, and each harm done to it is seen."""

from __future__ import annotations

import msgspec
import pytest

from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import (
    SIGNALS,
    Caution,
    Machine,
    Mention,
    PartsRow,
    Procedure,
    Reference,
    Section,
    Step,
    TorqueRow,
    TorqueValue,
)
from lastbolt.words.measured import Limit, LimitSense, Span
from lastbolt.words.quantity import UNSAID, Kind, exactly
from styles.made import make
from styles.matching import tokens, within
from styles.score import score
from styles.truth import TrueLimit, TrueReference, TrueStep, TrueTorque, Truth


@pytest.fixture(scope="module", params=["style_1", "style_2", "style_3", "style_9"])
def truth(request: pytest.FixtureRequest) -> Truth:
    return make(str(request.param), 4).truth


def _reference(one: TrueReference, number: int) -> Reference:
    steps = one.steps or (None, None)
    return Reference(
        f"r{number}", one.words, "see", one.expect, tuple(f"p/{key}" for key in one.targets), False, *steps,
        "if so" if one.binds_only else "",
    )  # type: ignore[arg-type]  # fmt: skip


def _value(one: TrueTorque) -> TorqueValue:
    return TorqueValue((one.low_Nm, one.high_Nm), (), one.angle_deg, words=one.words)


def _limit(one: TrueLimit, number: int, sense: LimitSense = "at least") -> Limit:
    """Limits of these manuals lie under the standard."""
    assert one.standard_mm is not None
    assert one.limit_mm is not None
    part, _, measure = one.what.rpartition(", ")
    last = Span(one.limit_mm, None if sense == "at least" else one.limit_mm, "mm")
    return Limit(f"l/{number}", one.what, measure, part, Span(*one.standard_mm, "mm"), last, sense)


def _at(steps: list[TrueStep], mark: str, words: str) -> int | None:
    """Where a thing of that mark (or, without marks, of these words) stands."""
    for index, step in enumerate(steps):
        if mark and step.mark == mark:
            return index
    if mark:
        return None
    return next((i for i, step in enumerate(steps) if within(tokens(words), tokens(step.words)) == 1), None)


def _procedure(key: str, truth: Truth) -> Procedure:
    """The section as a reader that misses nothing gives it."""
    section = next(one for one in truth.sections if one.key == key)
    true_steps = [one for one in truth.steps if one.section == key]
    refs: dict[int | None, list[Reference]] = {}
    for number, one in enumerate(truth.references):
        if one.section == key:
            at = None if one.step in ("before", "after") else _at(true_steps, one.step, one.words)
            refs.setdefault(at, []).append(_reference(one, number))
    steps = []
    for index, true in enumerate(true_steps):
        here = [one for one in truth.torques if one.section == key and not one.what]
        torques = [one for one in here if _at(true_steps, one.step, one.words) == index]
        mentions = [
            Mention(one.what, quantity=UNSAID if one.count is None else exactly(one.count),
                    kind=Kind(one.what, one.thread, one.length_mm))
            for one in truth.fasteners if one.section == key and _at(true_steps, one.step, one.words) == index
        ]  # fmt: skip
        cautions = [
            Caution(SIGNALS[one.signal], one.words)
            for one in truth.cautions
            if one.section == key and true.mark and one.step == true.mark
        ]
        limits = [
            _limit(one, number)
            for number, one in enumerate(truth.limits)
            if one.section == key and key != "limits" and _at(true_steps, one.step, one.words) == index
        ]
        steps.append(
            Step(f"s/{key}/{index}", true.mark, true.words, references=tuple(refs.get(index, ())),
                 torques=tuple(map(_value, torques)), mentions=tuple(mentions), cautions=tuple(cautions),
                 limits=tuple(limits))
        )  # fmt: skip
    loose = [
        Caution(SIGNALS[one.signal], one.words)
        for one in truth.cautions
        if one.section == key and not one.step
    ]
    return Procedure(
        f"p/{key}", section.number, section.title, steps=tuple(steps), before=tuple(refs.get(None, ())),
        cautions=tuple(loose), citations=(Citation("m", PdfPlace(section.page)),),
    )  # fmt: skip


def perfect(truth: Truth) -> Machine:
    """The model that says all that is true."""
    sections = tuple(
        Section(
            f"p/{one.key}", one.number, one.title, one.level, citations=(Citation("m", PdfPlace(one.page)),)
        )
        for one in truth.sections
    )
    keys = list(dict.fromkeys(one.section for one in (*truth.steps, *truth.references)))
    rows = tuple(
        PartsRow(f"row/{n}", "m", one.figure, one.item, one.number, one.name,
                 UNSAID if one.quantity is None else exactly(one.quantity))
        for n, one in enumerate(truth.parts)
    )  # fmt: skip
    tables = tuple(
        TorqueRow(f"t/{n}", one.what, _value(one)) for n, one in enumerate(truth.torques) if one.what
    )
    limits = tuple(_limit(one, n) for n, one in enumerate(truth.limits) if one.section == "limits")
    procedures = tuple(_procedure(key, truth) for key in keys)
    return Machine(
        "lastbolt.model/1", "made", sections=sections, procedures=procedures, rows=rows, torques=tables,
        limits=limits,
    )  # fmt: skip


def _with_reference(machine: Machine, at: tuple[int, int], new: Reference | None) -> Machine:
    """The model with the first pointer of that step changed, or gone."""
    procedures = list(machine.procedures)
    steps = list(procedures[at[0]].steps)
    _, *rest = steps[at[1]].references
    kept = (*([new] if new else []), *rest)
    steps[at[1]] = msgspec.structs.replace(steps[at[1]], references=kept)
    procedures[at[0]] = msgspec.structs.replace(procedures[at[0]], steps=tuple(steps))
    return msgspec.structs.replace(machine, procedures=tuple(procedures))


def _a_pointer(machine: Machine) -> tuple[tuple[int, int], Reference]:
    """A step with one pointer that leads to one section, and its place."""
    for p, procedure in enumerate(machine.procedures):
        for s, step in enumerate(procedure.steps):
            if len(step.references) == 1 and step.references[0].status == "resolved":
                one = step.references[0]
                if len(one.to) == 1 and one.to[0] != procedure.id and "ig" not in one.words:
                    return (p, s), one
    raise AssertionError("no such pointer")


def test_the_whole_truth_scores_full_marks(truth: Truth) -> None:
    total = score(perfect(truth), truth)
    short = {kind: (c.true, c.found, c.read, c.right) for kind, c in total.counts.items() if c.f1 < 1}
    assert short == {}
    assert (total.silent, total.wrong) == (0, 0)
    assert total.misses == []


def test_a_pointer_gone_is_a_silent_miss(truth: Truth) -> None:
    machine = perfect(truth)
    at, _ = _a_pointer(machine)
    total = score(_with_reference(machine, at, None), truth)
    assert (total.silent, total.wrong) == (1, 0)
    assert total.counts["references"].found == len(truth.references) - 1


def test_a_pointer_led_elsewhere_is_silent_and_wrong(truth: Truth) -> None:
    machine = perfect(truth)
    at, one = _a_pointer(machine)
    other = next(
        p.id for p in machine.procedures if p.id not in (*one.to, machine.procedures[at[0]].id) and p.steps
    )
    total = score(_with_reference(machine, at, msgspec.structs.replace(one, to=(other,))), truth)
    assert (total.silent, total.wrong) == (1, 1)


def test_a_pointer_told_as_dangling_is_missed_but_not_silently(truth: Truth) -> None:
    machine = perfect(truth)
    at, one = _a_pointer(machine)
    told = msgspec.structs.replace(one, to=(), status="dangling")
    total = score(_with_reference(machine, at, told), truth)
    assert total.silent == 0
    assert total.counts["references"].found == len(truth.references) - 1


def test_what_is_invented_lowers_precision(truth: Truth) -> None:
    machine = perfect(truth)
    value = TorqueValue((1234.0, 1234.0), ())
    first, *rest = machine.procedures
    invented = Step("s/x", "99", "Polish the ornament with wax", torques=(value,))
    more = msgspec.structs.replace(first, steps=(*first.steps, invented))
    machine = msgspec.structs.replace(machine, procedures=(more, *rest), rows=machine.rows[1:])
    total = score(machine, truth)
    assert total.counts["steps"].read - total.counts["steps"].right == 1
    assert total.counts["torques"].read - total.counts["torques"].right == 1
    assert total.counts["parts rows"].true - total.counts["parts rows"].found == 1
