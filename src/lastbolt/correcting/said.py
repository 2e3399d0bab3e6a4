"""What was put right, in one sentence."""

from lastbolt.correcting.facts import Fact
from lastbolt.correcting.read_as import span_words
from lastbolt.words.corrections import (
    AsksNothing,
    Confirmed,
    Correction,
    CountReads,
    LeadsTo,
    LimitReads,
    NotAStep,
    RowReads,
    StepMissing,
    StepReads,
    TorqueReads,
)
from lastbolt.words.machine import PutRight


def said_of(one: Correction, fact: Fact) -> PutRight:
    """The correction as the corrected model keeps it."""
    return PutRight(
        one.fact, words_of(one), one.by, one.at, fact.seen, one.reason, one.id, fact.under,
        isinstance(one, AsksNothing),
        one.to if isinstance(one, LeadsTo) else (),
        isinstance(one, LeadsTo) and one.first is True,
        isinstance(one, Confirmed),
        fact.citations[:1],
    )  # fmt: skip


def words_of(one: Correction) -> str:
    """The correction in one sentence: '"see 5.7" leads to 4.2.'"""
    saw = f'"{one.saw}"'
    match one:
        case Confirmed():
            return f"{saw}: looked at, and right as it was read."
        case NotAStep():
            return f"{saw} is no step."
        case StepMissing(words=words, mark=mark):
            whole = f"{mark} {words}".strip()
            return f'A step that was not read: "{whole}"{"" if whole.endswith(".") else "."}'
        case StepReads():
            return _step(one, saw)
        case LeadsTo(to=to, any_of=any_of):
            names = (" or " if any_of else " and ").join(name.rpartition("/")[2] for name in to)
            return f"{saw} leads to {names}{', which comes first' if one.first else ''}."
        case AsksNothing():
            return f"{saw} asks for nothing here."
        case TorqueReads():
            return f"{saw}: the torque is {_torque(one)}."
        case LimitReads():
            return f"{saw}: {_limit(one)}."
        case CountReads():
            return f"{saw}: {_count(one.low, one.high)} pieces."
        case RowReads():
            return f"{saw}: {_row(one)}."
    return f"{saw}: withdrawn."


def _step(one: StepReads, saw: str) -> str:
    words = f' reads "{one.words}"' if one.words is not None else ""
    mark = f' has the mark "{one.mark}"' if one.mark is not None else ""
    deeds = f" is to {' and '.join(one.deeds)}" if one.deeds is not None else ""
    said = f"{saw}{' and'.join(part for part in (words, mark, deeds) if part)}"
    return said if said.endswith('."') else f"{said}."


def _torque(one: TorqueReads) -> str:
    value = _range(one.low, one.high)
    turn = f", then {one.angle_deg:g}°" if one.angle_deg is not None else ""
    return f"{one.limit} {value} {one.unit}{turn}".strip()


def _range(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def _count(low: int | None, high: int | None) -> str:
    return str(low) if low == high else f"{low} to {high}"


def _limit(one: LimitReads) -> str:
    new = f"new {span_words(one.standard)}" if one.standard else ""
    worn = f"limit {one.sense or ''} {span_words(one.limit)}".replace("  ", " ") if one.limit else ""
    return ", ".join(part for part in (new, worn) if part) or "as printed"


def _row(one: RowReads) -> str:
    count = f"{_count(one.low, one.high)} pieces" if one.low is not None else ""
    length = "" if one.length_mm is None else f"x{one.length_mm:g}"
    size = f"{one.thread or ''}{length}"
    kind = " ".join(part for part in (one.what or "", size) if part)
    none = "no fastener" if one.what == "" else ""
    name = f'"{one.name}"' if one.name is not None else ""
    number = f"part number {one.part_number}" if one.part_number is not None else ""
    return ", ".join(part for part in (name, count, kind, none, number) if part) or "as printed"
