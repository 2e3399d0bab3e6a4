"""The running account: finished only when nothing is left over, missing, slack or left in."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from lastbolt.refitting.lines_left import comes_later, lines_left
from lastbolt.refitting.places import at_places
from lastbolt.refitting.put_in_list import put_in_list
from lastbolt.refitting.trays import Short, trays_of
from lastbolt.words.account import (
    ACCOUNT_SCHEMA,
    Account,
    AtPlace,
    Held,
    LeftIn,
    Leftover,
    Stands,
    StandsKind,
    Thing,
    Whereabouts,
)
from lastbolt.words.back import Back, BackLine, Removed
from lastbolt.words.engine import Engine
from lastbolt.words.job import FoundBad, FoundWhy, Job, Renewed, WontClose
from lastbolt.words.joint import Walk
from lastbolt.words.place_runs import listed
from lastbolt.words.plan import Line, Plan
from lastbolt.words.standing import standing

DONE = ("done", "done, not looked at")
OFF = (*DONE, "taken for done")
BACK = ("back", "renewed")
RIGHT = ("final", "never there")
TIGHTEN = "Tighten to the end as the source says, and mark it."
NOT_RIGHT: dict[Held, tuple[str, str, str]] = {
    "in": ("is in and not tightened", "are in and not tightened", TIGHTEN),
    "slack": ("is slack", "are slack", TIGHTEN),
    "stage": (
        "is tightened to stage {stage} only",
        "are tightened to stage {stage} only",
        "Go on to the last stage, and mark it.",
    ),
    "out": ("is out", "are out", "Put in the length that belongs to each place."),
    "broken": ("is broken off", "are broken off", "Take the shank out, and fit a new fastener."),
    "not known": ("is not accounted for", "are not accounted for", "Look, and say what is there."),
}
"""What to say of one place, of several, and what to do."""


def account(
    plan: Plan,
    back: Back,
    walks: Sequence[Walk] = (),
    engine: Engine | None = None,
    job: Job | None = None,
    more: Sequence[Stands] = (),
) -> Account:
    """The account of a job, from the plan, its way back, and everything that was seen and done; `more`: what
    stands by the lengths of fasteners, which this package cannot tell."""
    things = tuple(_things(plan, back, job))
    places = at_places(walks, engine, job)
    left_in = put_in_list(job)
    trays = trays_of(job)
    stands = (
        *_apart(job), *_in(left_in), *_missing(things), *_unticked(things), *_not_met(back, job),
        *_not_tight(places), *_untold_torques(back, places), *_over(trays.over), *_short(trays.short),
        *(lines_left(back, things, job) if job is not None else ()), *more,
    )  # fmt: skip
    begun = any(one.state in BACK for one in things) or any(one.state == "final" for one in places)
    return Account(
        ACCOUNT_SCHEMA, plan.goal, begun and not stands, tuple(stands), things, places, left_in, trays.over
    )


def _things(plan: Plan, back: Back, job: Job | None) -> Iterator[Thing]:
    lines = {line.id: line for line in plan.lines}
    done = _lines_done(back.lines)
    words = _last_words(job)
    moments = {event.id: moment for moment, event in standing(job)}
    on = _ticks_by_line(back.lines)
    for one in back.removed:
        line = lines.get(one.off_by)
        again = _off_again(line, {event for name in one.on_by for event in on.get(name, ())}, moments)
        state, event = _state(one, line, set() if again else done, words)
        by = getattr(event, "by", "")
        event_id = getattr(event, "id", "")
        called = one.called or one.part
        yield Thing(one.id, one.part, state, one.count, one.on_by, by, event_id, called, one.where)


def _ticks_by_line(lines: Iterable[BackLine]) -> dict[str, tuple[str, ...]]:
    """By line: the events that ticked it; those of all its lines for the opening of a section."""
    own: dict[str, list[str]] = {}
    found: dict[str, tuple[str, ...]] = {}
    for one in lines:
        own.setdefault(one.line.procedure, []).extend(one.line.said)
        found[one.line.id] = one.line.said
    return {**found, **{name: (*found.get(name, ()), *some) for name, some in own.items() if name in found}}


def _off_again(line: Line | None, on: Iterable[str], moments: Mapping[str, int]) -> bool:
    """Whether the line that takes a thing off was ticked once more after it went on."""
    off = max((moments.get(name, -1) for name in (line.said if line else ())), default=-1)
    return -1 < max((moments.get(name, -1) for name in on), default=-1) < off


Word = FoundBad | Renewed
"""What people say of a part that does not simply go back."""


def _state(
    one: Removed, line: Line | None, done: set[str], words: dict[str, tuple[int, Word]]
) -> tuple[Whereabouts, Word | None]:
    said = [words[name] for name in (*one.rows, one.part.casefold()) if name in words]
    _, last = max(said, key=lambda word: word[0], default=(0, None))
    if isinstance(last, Renewed):
        return "renewed", last
    if last is not None:
        return last.how, last
    if one.on_by and done.issuperset(one.on_by):
        return ("renewed" if one.renewed else "back"), None
    if line is None or line.state not in OFF:
        return "on", None
    return ("to be renewed" if one.renewed else "off"), None


def _last_words(job: Job | None) -> dict[str, tuple[int, Word]]:
    """By the row, or by the name where none is told: the last word about a part, and when it was said.

    Fewer new ones than were found bad leave the part bad.
    """
    found: dict[str, tuple[int, Word]] = {}
    bad: Counter[str] = Counter()
    for moment, event in standing(job):
        if isinstance(event, Word):
            name = event.row or event.part.strip().casefold()
            bad[name] = (
                max(bad[name], event.count) if isinstance(event, FoundBad) else bad[name] - event.count
            )
            if isinstance(event, FoundBad) or bad[name] <= 0:
                found[name] = (moment, event)
                bad[name] = max(bad[name], 0)
    return found


def _lines_done(lines: Iterable[BackLine]) -> set[str]:
    """Ids of the lines that were ticked; a section's opening with the last of its steps that are not of long
    after."""
    steps: dict[str, list[Line]] = {}
    for one in lines:
        steps.setdefault(one.line.procedure, []).append(one.line)
    found = set()
    for own in steps.values():
        todo = [line for line in own if line.kind == "step" and not comes_later(line)]
        found |= {line.id for line in todo if line.state in DONE}
        if todo and all(line.state in DONE for line in todo):
            found |= {line.id for line in own}
    return found


PUT_IT_BACK: dict[Whereabouts, str] = {
    "off": "Put back what is off, and tick its lines.",
    "to be renewed": "Fit new ones, and tick their lines.",
    "lost": "Find it, or fit a new one. Make sure that it does not lie inside.",
    "damaged": "Fit a new one, or have it made good.",
    "beyond limit": "Fit a new one, or have it made good.",
}


def _missing(things: Iterable[Thing]) -> Iterator[Stands]:
    """What is off and not back, the things of one section and state together."""
    by: dict[tuple[Whereabouts, str], list[Thing]] = {}
    for one in things:
        if one.state in PUT_IT_BACK:
            by.setdefault((one.state, one.where.partition(" ")[0]), []).append(one)
    for (state, section), some in by.items():
        called = ", ".join(dict.fromkeys(one.called for one in some))
        head = f"{section}: " if section else ""
        yield Stands("missing", f"{head}{called}: {state}", PUT_IT_BACK[state])


def _unticked(things: Iterable[Thing]) -> Iterator[Stands]:
    """What nobody ticked off or on: it may be on, or lie in a tray that nobody wrote down."""
    on = tuple(dict.fromkeys(one.part for one in things if one.state == "on"))
    if on:
        do = "Look whether each of these is still on; tick what came off, and what is back."
        yield Stands("not read", f"Never ticked off: {', '.join(on)}", do)


def _not_tight(places: Iterable[AtPlace]) -> Iterator[Stands]:
    """Places that are not as they must be, those of one joint and state together."""
    by: dict[tuple[str, Held, int], list[str]] = {}
    for one in places:
        if one.state not in RIGHT:
            by.setdefault((one.joint, one.state, one.stage), []).append(one.label)
    for (_, state, stage), labels in by.items():
        one_by_one, together, do = NOT_RIGHT[state]
        kind: StandsKind = "missing" if state in ("out", "broken", "not known") else "slack"
        said = (one_by_one if len(labels) == 1 else together).format(stage=stage)
        noun = "Place" if len(labels) == 1 else "Places"
        yield Stands(kind, f"{noun} {listed(labels)} {said}", do)


def _untold_torques(back: Back, places: Iterable[AtPlace]) -> Iterator[Stands]:
    """A tick says that a step was done, and not that each fastener was taken to its torque."""
    lines = [one for one in back.lines if one.line.torques]
    if lines and not any(one.state == "final" for one in places):
        number = len(lines)
        said = (
            f"{number} line{' gives' if number == 1 else 's give'} a torque, and nobody recorded a last stage"
        )
        yield Stands(
            "slack", said, "Record what was tightened to the end (tightened, final), place by place."
        )


def _over(over: Iterable[Leftover]) -> Iterator[Stands]:
    for one in over:
        where = f" in {one.tray}" if one.tray else ""
        if one.pieces > 0:
            yield Stands(
                "left over", f"{one.pieces} {one.what} left over{where}", "Find the place it came from."
            )
        else:
            do = "Say where the others came from: an old one may still lie somewhere."
            more = f"{-one.pieces} more {one.what}{'' if one.pieces == -1 else 's'}"
            yield Stands("left over", f"{more} went in than came out{where}", do)


def _short(short: Short | None) -> Iterator[Stands]:
    if short is not None:
        by = f" by {short.by}" if short.by else ""
        yield Stands(
            "missing",
            f"{short.out} came out, and {short.counted} were counted in the trays{by}",
            "Find what is missing: it may lie inside. Count every size again, or say what was renewed.",
        )


def _in(left_in: Iterable[LeftIn]) -> Iterator[Stands]:
    for one in left_in:
        where = f" ({one.where})" if one.where else ""
        if one.count > 0:
            plural = "" if one.count == 1 or one.thing.endswith("s") else "s"
            words = f"{one.count} {one.thing}{plural} still in{where}"
            yield Stands("left in", words, "Take it out before closing.")
        else:
            do = "Count what was laid in: one more came out than the record has."
            yield Stands("left in", f"{-one.count} {one.thing} more came out than went in{where}", do)


def not_closing(job: Job | None) -> tuple[WontClose, ...]:
    """Joints that would not close, and whose cause nobody has found since."""
    still: dict[str, WontClose] = {}
    for _, event in standing(job):
        if isinstance(event, WontClose):
            still[event.joint] = event
        elif isinstance(event, FoundWhy) and event.cause.strip():
            still.pop(event.joint, None)
    return tuple(still.values())


def _apart(job: Job | None) -> Iterator[Stands]:
    for event in not_closing(job):
        yield Stands(
            "won't close",
            f"{event.by} says that {event.joint} won't close",
            "Stop. Never draw the halves together with the screws. Find what keeps them apart.",
        )


def _not_met(back: Back, job: Job | None) -> Iterator[Stands]:
    """Parts found bad that nothing of this plan took off: they are not lost from the account."""
    known = {name for one in back.removed for name in (*one.rows, one.part.casefold())}
    for name, (_, event) in _last_words(job).items():
        if name not in known and isinstance(event, FoundBad):
            yield Stands("missing", f"{event.part}: {event.how}", "Fit a new one, or have it made good.")
