"""A scene as the shipped builder's input: the same statements, in the same order, nothing concluded."""

from brute.claim_table import Count, Line, Look, Scene, Step
from lastbolt.words.evidence import (
    Break,
    Evidence,
    EvidencePlace,
    ListRead,
    Printed,
    RoundMade,
    StepSaid,
    TrayCount,
)
from lastbolt.words.evidence import Line as SaidLine
from lastbolt.words.evidence import Look as SaidLook
from lastbolt.words.joint import Saw
from lastbolt.words.quantity import UNSAID, Kind, exactly

SAW: dict[str, Saw] = {"out": "out", "open hole": "open hole", "nothing": "nothing here", "in": "in"}
STEPS_AT, LOOKS_AT, COUNTS_AT, BREAK_AT = 1, 10, 20, 30
"""Moments: steps are recorded, then people go round, then the tray is counted; a break comes last."""


def kind_of(name: str) -> Kind:
    """`M8x55` as a kind of fastener."""
    thread, _, length = name.partition("x")
    return Kind(what="bolt", thread=thread, length_mm=float(length))


def evidence_of(scene: Scene) -> Evidence:
    """The scene as evidence. Scenes name kinds like `M8x55`."""
    return Evidence(
        joint="joint",
        places=tuple(EvidencePlace(place, place, _kind_there(scene)) for place in scene.places),
        lines=tuple(_line(scene, line) for line in scene.lines),
        lists=tuple(ListRead(source, _lineage(scene, source)) for source in scene.read_to_end),
        steps=tuple(_step(scene, step) for step in scene.steps),
        looks=tuple(_look(look) for look in scene.looks),
        rounds=tuple(RoundMade(person, LOOKS_AT) for person in scene.rounds),
        counts=tuple(_count(count) for count in scene.counts),
        breaks=(Break(BREAK_AT),) if scene.breaks else (),
    )


def _kind_there(scene: Scene) -> Kind | None:
    return kind_of(scene.lines[0].kind) if scene.places_named else None


def _lineage(scene: Scene, source: str) -> str:
    return next((row.lineage for row in scene.rows if row.source == source and row.lineage), source)


def _line(scene: Scene, line: Line) -> SaidLine:
    rows = [row for row in scene.rows if row.line == line.id]
    tied = [row.source for row in rows if row.tied]
    return SaidLine(
        id=line.id,
        kind=kind_of(line.kind),
        printed=tuple(Printed(exactly(row.prints), row.source, row.lineage or row.source) for row in rows),
        belongs="wholly" if tied else "maybe",
        tied_by=tied[0] if tied else "",
        on_engine=dict(scene.engine_file).get(line.id),
    )


def _step(scene: Scene, step: Step) -> StepSaid:
    done = step.mark == "done"
    return StepSaid(
        id=step.id,
        line=step.line,
        kind=None,
        removes=UNSAID if step.removes is None else exactly(step.removes),
        source=f"step {step.id}",
        lineage=step.lineage or f"step {step.id}",
        places=step.places,
        state=step.mark,  # type: ignore[arg-type]
        by=step.by if done else "",
        moment=STEPS_AT if done else 0,
    )


def _look(look: Look) -> SaidLook:
    return SaidLook(look.person, look.place, SAW[look.saw], guided=not look.weak, moment=LOOKS_AT)


def _count(count: Count) -> TrayCount:
    return TrayCount(
        count.person, kind_of(count.kind), count.number, COUNTS_AT, complete_pieces=not count.weak
    )
