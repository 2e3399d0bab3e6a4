"""Independent check of a scene: re-derives every statement from the truth alone, statement by statement.

It shares no code with what makes the scenes: it reads only the truth record. Each untrue statement comes
back with the roots that would excuse it; a scene is sound when each has such a root among its own, and
when each of its roots excuses something.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from lastbolt.words.evidence import Line, TrayCount
from lastbolt.words.quantity import Quantity

from .scenes import PieceTruth, PlaceTruth, Scene


@dataclass(frozen=True)
class Untrue:
    """One statement that is not so, and the roots (kind, subject) any one of which would excuse it."""

    statement: object
    why: str
    excuses: tuple[tuple[str, str], ...]


class _View:
    def __init__(self, scene: Scene):
        truth = scene.truth
        self.scene, self.evidence, self.truth = scene, scene.evidence, truth
        self.place: dict[str, PlaceTruth] = {place.id: place for place in truth.places}
        self.piece: dict[str, PieceTruth] = {p.place: p for p in truth.pieces if p.place is not None}
        self.covers = dict(truth.covers)
        self.lines = {line.id for line in scene.evidence.lines}
        self.here_by_design = [p for p in truth.pieces if p.by_design and p.place is not None]

    def design_count(self, line: str) -> int:
        return sum(1 for p in self.truth.pieces if p.line == line and p.by_design)


def untrue_statements(scene: Scene) -> list[Untrue]:
    """Every statement of the evidence, spoken or implied, that is not so."""
    view = _View(scene)
    return [
        *_papers(view),
        *_lists(view),
        *_steps(view),
        *_looks(view),
        *_rounds(view),
        *_acts(view),
        *_counts(view),
        *_standing(view),
        *_broken(view),
    ]


def unsound(scene: Scene) -> list[str]:
    """What is wrong with the scene itself: untrue statements nobody's mistake explains, and idle roots."""
    roots = {(root.kind, root.subject) for root in scene.roots}
    roots |= {("overlooked", f"{who} at {place}") for who, place in scene.overlooked}
    faults, used = [], set()
    for untrue in untrue_statements(scene):
        excused = roots.intersection(untrue.excuses)
        used |= excused
        if not excused:
            faults.append(f"{untrue.why}: {untrue.statement!r}; would need one of {untrue.excuses}")
    faults += [
        f"root that spoils nothing: {root}" for root in sorted(roots - used) if root[0] != "overlooked"
    ]
    if scene.truth.held != any(place.state != "empty" for place in scene.truth.places):
        faults.append("held or not does not follow from the places")
    return faults


def _papers(view: _View) -> Iterator[Untrue]:
    for line in view.evidence.lines:
        true = view.design_count(line.id)
        for printed in line.printed:
            if not _within(printed.quantity, true):
                yield Untrue(
                    (line.id, printed), f"prints another number than {true}",
                    (("misprint", f"{line.id} in {printed.source}"), ("misreading", printed.reading),
                     ("inherited misprint", f"{line.id} in lineage {printed.lineage}")),
                )  # fmt: skip
        yield from _line_itself(view, line, true)
    yield from _places(view)


def _line_itself(view: _View, line: Line, true: int) -> Iterator[Untrue]:
    pieces = [p for p in view.truth.pieces if p.line == line.id]
    wants = [p.place for p in pieces]
    if line.belongs == "wholly" and (None in wants or (not wants and line.id != "E1")):
        yield Untrue(line, "not wholly of this joint", (("line not wholly here", line.id),))
    if line.belongs == "partly" and not any(wants):
        yield Untrue(line, "no piece on this joint", ())
    if any(place not in wants for place in line.places):
        yield Untrue(line, "no piece of it goes to that place", ())
    fitted = [p for p in pieces if p.fitted and p.actual == p.kind]
    if line.id == "E1":
        fitted = [p for p in view.truth.pieces if not p.by_design]
    if line.on_engine is not None and line.on_engine != len(fitted):
        yield Untrue(line, "the engine has another number", ())
    elif line.on_engine is None:
        same = [p for p in view.truth.pieces if not p.by_design and p.actual == line.kind]
        differs = len(fitted) + len(same) != true or any(not p.fitted or p.actual != p.kind for p in pieces)
        if differs and any(printed.quantity.low is not None for printed in line.printed):
            yield Untrue(line, "engine differs", (("engine not as its papers", "this engine"),))


def _places(view: _View) -> Iterator[Untrue]:
    for place in view.evidence.places:
        piece = view.piece.get(place.id)
        if place.kind is not None and (piece is None or piece.kind != place.kind):
            yield Untrue(place, "another kind belongs there", ())
        elif place.kind is not None and piece is not None and piece.actual != piece.kind:
            yield Untrue(place, "engine has another there", (("engine not as its papers", "this engine"),))
        if any(line != "E1" and (piece is None or piece.line != line) for line in place.lines):
            yield Untrue(place, "another line belongs there", ())


def _within(quantity: Quantity, number: int) -> bool:
    low, high = quantity.low, quantity.high
    return (low is None or number >= low) and (high is None or number <= high)


def _lists(view: _View) -> Iterator[Untrue]:
    for listed in view.evidence.lists:
        rows = {
            line.id for line in view.evidence.lines if any(p.source == listed.source for p in line.printed)
        }
        for piece in view.here_by_design:
            if piece.line not in rows:
                yield Untrue(listed, f"lacks {piece.id}", (("row left out", piece.kind.words()),))
        if any(not p.by_design for p in view.truth.pieces) and "E1" not in view.lines:
            yield Untrue(listed, "an extra bolt has no row", (("engine not as its papers", "this engine"),))


def _steps(view: _View) -> Iterator[Untrue]:
    for step in view.evidence.steps:
        covers = view.covers[step.id]
        design = [
            p for p in view.here_by_design
            if p.place in covers and (step.kind is None or p.kind == step.kind)
        ]  # fmt: skip
        if not _within(step.removes, len(design)):
            yield Untrue(step, f"removes {len(design)}", (
                ("misprint", f"step {step.id}"),
                ("inherited misprint", f"{step.line} in lineage {step.lineage}"),
            ))  # fmt: skip
        if step.removes.low is not None and any(not p.fitted for p in design):
            yield Untrue(step, "the engine has fewer", (("engine not as its papers", "this engine"),))
        for id_ in covers:
            place = view.place[id_]
            if step.state == "done" and place.state_at(step.moment) != "empty":
                yield Untrue(step, f"{id_} not out when ticked", (
                    ("ticked, not done", step.id), ("did not look", step.by), ("broken head", id_),
                ))  # fmt: skip
            if (
                step.state == "not recorded"
                and place.history[0][1] != "empty"
                and _went_unrecorded(view, place)
            ):
                yield Untrue(step, f"{id_} taken out all the same", (
                    ("done, not recorded", step.id), ("changed at a break", "this joint"),
                ))  # fmt: skip


def _went_unrecorded(view: _View, place: PlaceTruth) -> bool:
    out = [when for when, state in place.history if state == "empty"]
    told = {act.moment for act in view.evidence.acts if act.place == place.id}
    told |= {s.moment for s in view.evidence.steps if s.state == "done" and place.id in view.covers[s.id]}
    return any(when not in told for when in out)


def _looks(view: _View) -> Iterator[Untrue]:
    for look in view.evidence.looks:
        if look.saw == "cannot see" or _so(view, look.place, look.saw, look.moment):
            continue
        where = f"{look.by} at {look.place}"
        state = view.place[look.place].state_at(look.moment)
        excuses = [("did not look", look.by), ("misjudged a place", where)]
        if not look.guided:
            excuses = [("overlooked", where)] if state != "empty" else []
        if state == "shank" and look.saw in ("out", "open hole", "hollow dowel, empty"):
            excuses.append(("broken head", look.place))
        if state == "shank" and look.saw == "rod to the bottom":
            excuses.append(("hole deeper than known", look.place))
        yield Untrue(look, f"{state} there", tuple(excuses))


def _so(view: _View, id_: str, saw: str, moment: int) -> bool:
    place, piece = view.place[id_], view.piece.get(id_)
    state = place.state_at(moment)
    empty, dowelled = state == "empty", place.form in ("hollow dowel", "bolted dowel")
    return {
        "out": empty and piece is not None,
        "in": state == "in",
        "slack": state == "slack",
        "broken off": state == "shank",
        "open hole": empty and place.drilled,
        "light through": empty and place.through,
        "rod to the bottom": empty and place.drilled and not place.through and place.form != "stud",
        "solid dowel, both ends": place.form == "solid dowel",
        "nothing here": empty and piece is None and not dowelled and place.form != "solid dowel",
        "solid dowel": place.form == "solid dowel",
        "hollow dowel, empty": dowelled and empty,
        "hollow dowel, bolt in": dowelled and state in ("in", "slack"),
    }[saw]


def _rounds(view: _View) -> Iterator[Untrue]:
    known = {place.id for place in view.evidence.places}
    for made in view.evidence.rounds:
        looked = {
            look.place for look in view.evidence.looks if look.by == made.by and look.moment <= made.moment
        }
        hidden = [place.id for place in view.truth.places if place.id not in known]
        for id_ in hidden:
            yield Untrue(made, f"{id_} is there too", (
                ("missed a place", f"{made.by}, not listed: {id_}"), ("did not look", made.by),
            ))  # fmt: skip
        missing = {id_ for id_ in known if id_ not in looked}
        if missing and not view.scene.asked:
            yield Untrue(made, f"no look at {sorted(missing)}", ())


def _acts(view: _View) -> Iterator[Untrue]:
    for act in view.evidence.acts:
        state = view.place[act.place].state_at(act.moment)
        if act.did == "took out" and state != "empty":
            yield Untrue(act, f"{state} there", (("broken head", act.place), ("did not look", act.by)))
        if act.did == "put in" and state != "in":
            yield Untrue(act, f"{state} there", (("did not look", act.by),))
        piece = view.piece[act.place]
        if (act.kind is not None and act.kind != piece.actual) or act.line not in (None, piece.line):
            yield Untrue(act, "another piece", ())


def _broken(view: _View) -> Iterator[Untrue]:
    for id_ in view.evidence.broken:
        if view.place[id_].state != "shank":
            yield Untrue(id_, "no shank is in there", ())


def _counts(view: _View) -> Iterator[Untrue]:
    for count in view.evidence.counts:
        inside = [
            (change, tray)
            for moment, tray, kind, line, what, change in view.truth.tray_moves
            if moment < count.moment and count.kind.matches(kind) != "no"
            and (count.tray in ("", tray)) and (count.line is None or count.line == line)
            and (what == "whole" or not count.complete_pieces)
        ]  # fmt: skip
        true = sum(change for change, _ in inside)
        if true != count.pieces:
            subject = f"{count.by}, {count.kind.words()}, moment {count.moment}"
            yield Untrue(count, f"{true} in the trays", (("miscounted", subject), ("did not look", count.by)))
        yield from _tray_itself(view, count)


def _tray_itself(view: _View, count: TrayCount) -> Iterator[Untrue]:
    """Whether the trays hold just what came out, told from the pieces and not from the moves."""
    strangers = [
        m for m in view.truth.tray_moves if m[3] is None and m[0] == 0 and m[5] > 0 and m[4] == "whole"
    ]
    extras = [p for p in view.truth.pieces if p.line is None and p.place is not None]
    left = len(strangers) - sum(1 for p in extras if view.place[p.place or ""].state_at(0) == "empty")
    roots = {r.subject for r in view.scene.roots if r.kind == "tray mixed or short"}
    spoilt = tuple(("tray mixed or short", tray) for tray in sorted(roots)) or (("tray mixed or short", "?"),)
    if left > 0 and any(count.kind == m[2] and count.tray in ("", m[1]) for m in strangers):
        yield Untrue(count, "a piece from elsewhere lies in it", spoilt)
    for piece in view.truth.pieces:
        if piece.lost and piece.place and count.kind.matches(piece.actual) != "no":
            gone = view.place[piece.place].state_at(count.moment) == "empty"
            if gone and (not count.tray or count.tray in roots):
                yield Untrue(count, f"{piece.id} is out and in no tray", spoilt)


def _standing(view: _View) -> Iterator[Untrue]:
    """What was said before a break must still hold after it, unless somebody recorded a change."""
    for pause in view.evidence.breaks:
        for place in view.truth.places:
            before, after = place.state_at(pause.moment - 1), place.state_at(pause.moment)
            if before == after:
                continue
            said = [x for x in view.evidence.looks if x.place == place.id and x.moment < pause.moment]
            said += [x for x in view.evidence.acts if x.place == place.id and x.moment < pause.moment]
            said += [
                s for s in view.evidence.steps
                if s.state == "done" and s.moment < pause.moment and place.id in view.covers[s.id]
            ]  # fmt: skip
            for statement in said:
                yield Untrue(statement, f"{place.id} changed since", (("changed at a break", "this joint"),))
            if not said:
                yield Untrue(pause, f"{place.id} changed and nobody had spoken of it", ())
