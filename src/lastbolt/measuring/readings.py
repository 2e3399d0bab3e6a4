"""Every reading of a job judged: what it decides against its limits, what to know and to ask of it."""

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.measuring.decide import Decision, Limits, Rule, decide
from lastbolt.measuring.decision_words import decision_words
from lastbolt.measuring.differences import Operand, difference_of
from lastbolt.measuring.dimensions import Dimension, dimension_of
from lastbolt.measuring.questioned import Question, questioned
from lastbolt.measuring.shape_limits import clearances_measured, shapes_measured
from lastbolt.measuring.shape_words import shapes_of
from lastbolt.measuring.sheet import ends, expected
from lastbolt.measuring.spots import Taking, taking
from lastbolt.measuring.takes import Take, taken
from lastbolt.measuring.tools import doubts_of, past_due, tool_words
from lastbolt.measuring.units import same_kind, told_in
from lastbolt.words.job import Job
from lastbolt.words.problem import Problem
from lastbolt.words.readings import Decided, ShopTool, Size

BOTH = "Measure both, and name them as they were named there."
_COLDEST_C, _WARMEST_C = -20.0, 60.0
"""In which parts are measured by hand."""
_SCATTER = 3.0
"""A reading this many times the whole range of its limits away from the middle one is another number."""


class Setting(Struct, frozen=True):
    """How readings are decided, and the day on which calibrations must still hold ("2026-11-30")."""

    rule: Rule = "printed limit"
    today: str = ""


class Judged(Struct, frozen=True):
    """All readings: those with a limit, and sizes to reckon with."""

    decided: tuple[Decided, ...]
    sizes: tuple[Decided, ...]
    problems: tuple[Problem, ...]
    used: tuple[tuple[str, ...], ...] = ()
    """Names of the sizes that differences are made of."""


def judged(
    job: Job | None, sizes: Sequence[Size], tools: Sequence[ShopTool], setting: Setting | None = None
) -> Judged:
    """What each size of each part decides; one measured with several tools by the most certain of them."""
    setting = setting or Setting()
    found = taken(job, sizes, tools)
    groups: dict[tuple[str, str], list[Take]] = {}
    for take in found.takes:
        groups.setdefault(take.key, []).append(take)
    made = [_best(some, setting) for some in groups.values()]
    problems = list(found.problems)
    waiting = list(found.differences)
    while waiting:
        # A difference may stand before the sizes it is made of.
        done = [(one, difference_of(one, made, sizes)) for one in waiting]
        new = [(take, value) for take, value in done if not isinstance(value, str)]
        if not new:
            problems += [
                Problem("LB-M06", f'"{one.name}" cannot be worked out: {why}.', one.event.id, BOTH)
                for one, why in done
                if isinstance(why, str)
            ]
            break
        made += [_worked_out(take, value, setting) for take, value in new]
        waiting = [one for one, value in done if isinstance(value, str)]
    for size, one in (*shapes_measured(made, sizes), *clearances_measured(made, sizes)):
        made.append(_said(_of_size(one, size), size, one.questions, setting, sure=True))
    return Judged(
        tuple(
            sorted((one for one in made if one.limit), key=lambda one: (not one.number, one.number, one.of))
        ),
        tuple(one for one in made if not one.limit),
        tuple(problems), tuple(one.event.difference for one in found.differences),
    )  # fmt: skip


def _best(takes: Sequence[Take], setting: Setting) -> Decided:
    """The takes of one size by the tool with the least uncertainty; the others are told."""
    by_tool: dict[str, list[Take]] = {}
    for take in takes:
        by_tool.setdefault(take.tool.name, []).append(take)
    made = [_decided(some, setting) for some in by_tool.values()]
    made.sort(
        key=lambda one: (bool(one.questions), one.uncertainty is None, (one.uncertainty or 0.0) * one.k)
    )
    first, rest = made[0], made[1:]
    more = tuple(f"Also read {other.value:.4g} {other.unit} with {other.tool}." for other in rest)
    events = (*first.events, *(event for other in rest for event in other.events))
    return _with(first, told=(*first.told, *more), events=events)


def _decided(takes: Sequence[Take], setting: Setting) -> Decided:
    first = takes[0]
    kind = dimension_of(first.name) if first.size else replace(dimension_of(first.name), by="mean")
    unit = first.size.unit if first.size and first.size.unit else _plain_unit(first)
    read = taking(takes, kind, unit, lambda value: _worse(value, first.size))
    asked = _questions(takes, read, kind)
    questions = () if all(take.confirmed for take in takes) else tuple(asked)
    u = read.uncertainty
    told = (
        *_to_know(takes, read, kind, setting),
        *((first.size.told,) if first.size and first.size.told else ()),
    )
    made = _start(first, read.value, unit)
    made = _with(
        made, uncertainty=u.standard if u else None, k=u.k if u else 2.0, freedom=u.freedom if u else None,
        parts=tuple(f"{part.words}: {part.value:.2g} {unit}" for part in u.parts) if u else (),
        spots=read.spots, beside=shapes_of(read.spots, read.singles, kind, unit), told=told,
        asked=tuple(filter(None, [read.warmth.asked(read.value)])) if kind.warm else (),
        readers=read.readers, tool=first.tool.name, events=tuple(take.event.id for take in takes),
    )  # fmt: skip
    return _said(made, first.size, questions, setting, sure=all(take.confirmed for take in takes))


def _worked_out(take: Take, value: Operand, setting: Setting) -> Decided:
    """A difference, decided where a limit is about it."""
    size = take.size
    large = size is not None and dimension_of(size.what).warm
    asked = questioned(value.value, value.unit, expected(size, large=large)) if size else ()
    made = _with(
        _start(take, value.value, value.unit), uncertainty=value.standard, k=value.k, parts=value.parts,
        freedom=value.freedom, told=value.told, asked=value.asked, readers=(take.event.by,),
        events=(take.event.id,),
    )  # fmt: skip
    questions = (*value.questions, *(() if take.confirmed else (one.words for one in asked)))
    return _said(made, size, questions, setting, sure=take.confirmed)


def _of_size(made: Decided, size: Size) -> Decided:
    return _with(
        made, number=size.number, limit=size.limit, standard=size.standard, service=size.service,
        part=size.part, beyond=size.beyond, citations=size.citations,
    )  # fmt: skip


def _start(take: Take, value: float, unit: str) -> Decided:
    size = take.size
    if size is None:
        return Decided(take.name, value, unit, of=take.of)
    return _of_size(Decided(size.what, value, unit, of=take.of), size)


def _said(
    made: Decided, size: Size | None, questions: Sequence[str], setting: Setting, *, sure: bool
) -> Decided:
    """With what it decides: nothing while limits are barred or an entry is questioned; `sure`: confirmed."""
    if size is not None and not size.barred and not questions and not sure:
        questions = _grown(made, size, _decision(made, setting.rule))
    made = _with(made, questions=tuple(dict.fromkeys(questions)))
    if size is None:
        return made
    if size.barred:
        words = f"Not decided: {size.barred}. Ask which holds."
        return _with(made, says="not decided", words=words, rule=setting.rule)
    if questions:
        return _with(
            made, says="not decided", words="Not decided: look at the entry again.", rule=setting.rule
        )
    found = _decision(made, setting.rule)
    return _with(
        made, says=found.says, side=found.side, words=decision_words(made, found), rule=found.rule,
        source=found.source, probability=found.conformance_probability,
    )  # fmt: skip


def _decision(made: Decided, rule: Rule) -> Decision:
    """Its decision; of a part that wears to one side only, the other end of the standard range need not be
    told to the last figure: only what is surely past it counts. A clearance has two ends.
    """
    standard, service = ends(made.standard), ends(made.service)
    if standard is not None and service is not None and not dimension_of(made.what).both:
        standard = _without_untold_side(made, standard, service)
    limits = standard or service or Limits(None, None)
    return decide(
        made.value, limits, made.uncertainty, rule, made.k, service if standard is not None else None
    )  # fmt: skip


def _grown(made: Decided, size: Size, found: Decision) -> tuple[str, ...]:
    """A part on the side of its standard range to which nothing wears: another part, or another place."""
    service = size.service
    one_sided = service is not None and None in (service.low, service.high)
    if service is None or not one_sided or found.says != "beyond" or dimension_of(size.what).both:
        return ()
    worn_side = "low" if service.low is not None else "high"
    if found.side in ("", worn_side):
        return ()
    way = "larger" if found.side == "high" else "smaller"
    return (f"{made.value:.6g} {made.unit} is {way} than when new, and wear goes the other way: read again.",)


def _without_untold_side(made: Decided, standard: Limits, service: Limits) -> Limits:
    spread = made.k * made.uncertainty if made.uncertainty else 0.0
    low, high = standard.low, standard.high
    if low is not None and high is not None:
        # Half the range of new parts past its end is no riddle yet: another batch, a degree or two.
        spread = max(spread, (high - low) / 2)
    if service.low is None and low is not None and service.high is not None:
        low = low if made.value < low - spread else None
    if service.high is None and high is not None and service.low is not None:
        high = high if made.value > high + spread else None
    return Limits(low, high)


def _with(made: Decided, **changed: object) -> Decided:
    return replace(made, **changed)


def _plain_unit(take: Take) -> str:
    """The unit of a size that no limit is about: millimetres for lengths, else the tool's own."""
    said = take.event.unit or take.tool.unit
    return "mm" if same_kind(said, "mm") else said


def _outer(size: Size | None) -> Limits:
    """The ends beyond which a part is bad."""
    if size is None:
        return Limits(None, None)
    service, standard = ends(size.service), ends(size.standard)
    inner = standard or Limits(None, None)
    if service is None:
        return inner
    single = inner.low == inner.high
    low = service.low if service.low is not None or single else inner.low
    return Limits(low, service.high if service.high is not None or single else inner.high)


def _margin(value: float, limits: Limits) -> float:
    """How far inside the nearer end; without ends, nothing is worse than another."""
    found = [value - limits.low] if limits.low is not None else []
    found += [limits.high - value] if limits.high is not None else []
    return min(found, default=0.0)


def _worse(value: float, size: Size | None) -> float:
    """The less the worse: how far inside both ends, and among good ones how far from where it wears to."""
    inside = _margin(value, _outer(size))
    service = ends(size.service) if size else None
    if inside < 0 or service is None:
        return inside
    return _margin(value, service)


def _questions(takes: Sequence[Take], read: Taking, kind: Dimension) -> Iterator[str]:
    first = takes[0]
    said, tool = first.event.unit, first.tool
    if not (said or tool.unit):
        yield "In which unit? Neither the line nor the tool says it."
        return
    if said and tool.listed and tool.unit and said != tool.unit:
        yield f"Typed in {said}, and {tool.name} reads {tool.unit}."
    if first.size is not None and first.size.unit and not same_kind(said or tool.unit, read.unit):
        yield f"Read in {said or tool.unit}, and its limits are in {read.unit}."
        return
    for warm in dict.fromkeys((take.event.temperature_C, take.event.tool_temperature_C) for take in takes):
        yield from (
            f"{one:g} °C: were they so warm?" for one in warm if one is not None and not _bearable(one)
        )
    if first.size is None:
        return
    wanted = expected(first.size, large=kind.warm)
    travel = tool.kind in tool_words()["travel"]["kinds"]
    unit = tool.unit or said
    span = None if travel else (_told(tool.low, unit, read.unit), _told(tool.high, unit, read.unit))
    for value in dict.fromkeys(read.singles):
        found: Iterable[Question] = questioned(round(value, 6), read.unit, wanted, span)
        yield from (one.words for one in found)
    yield from _far_apart(read, kind, _outer(first.size))
    yield from _repeats_apart(read, first.size)


def _repeats_apart(read: Taking, size: Size) -> Iterator[str]:
    """Readings of one thing that differ by more than all new parts do are not of one thing."""
    span = size.standard
    if span is None or span.low is None or span.high is None or span.high <= span.low:
        return
    if read.apart > (span.high - span.low) * (1 + 1e-9):
        yield (
            f"Readings of it lie {read.apart:.4g} {read.unit} apart: read again. If it was set between "
            "them, say so (after setting)."
        )


def _bearable(celsius: float) -> bool:
    return _COLDEST_C <= celsius <= _WARMEST_C


def _far_apart(read: Taking, kind: Dimension, outer: Limits) -> Iterator[str]:
    """One place that is far from all others of the same size: a figure was mistyped."""
    values = sorted(spot.value for spot in read.spots)
    if not kind.warm or len(values) < 3 or outer.low is None or outer.high is None:
        return
    middle, wide = values[len(values) // 2], outer.high - outer.low
    for spot in read.spots:
        if wide > 0 and abs(spot.value - middle) > _SCATTER * wide:
            yield f"{spot.value:.6g} {read.unit} at {spot.at} is far from the others, {middle:.6g}."


def _told(value: float | None, unit: str, other: str) -> float | None:
    return None if value is None else round(told_in(value, unit, other), 6)


def _to_know(takes: Sequence[Take], read: Taking, kind: Dimension, setting: Setting) -> Iterator[str]:
    first = takes[0]
    tool = first.tool
    yield from doubts_of(tool, setting.today)
    if not all(take.zeroed for take in takes):
        yield f"No zero check of {tool.name or 'the tool'} before this series."
    errors = {take.zero.reads - take.zero.on for take in takes if take.zero} - {0.0}
    for error in sorted(errors):
        if abs(error) > 1e-12 and not _cancels(first, kind):
            yield f"The zero check was off by {error:+.4g} {tool.unit}: taken off."
    if not read.repeated:
        yield "Read once: a second reader shows how well it repeats."
    if warm := read.warmth.told(read.value):
        yield warm


def _cancels(take: Take, kind: Dimension) -> bool:
    return kind.by == "spread" or all(one.to is not None for one in take.event.readings)


def ran_out(decided: Decided, tools: Sequence[ShopTool], today: str) -> bool:
    """Whether it was read with a tool whose calibration ran out."""
    return any(tool.name == decided.tool and past_due(tool, today) for tool in tools)
