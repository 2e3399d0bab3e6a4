"""The way back as a sheet shows it: plain words, each with where it is said."""

from collections import Counter
from collections.abc import Iterable, Sequence

from msgspec import Struct

from lastbolt.app.plan_shown import limit_beside, torque_words
from lastbolt.app.wrench_shown import WrenchLine
from lastbolt.refitting.account import DONE
from lastbolt.words.account import Account, Stands
from lastbolt.words.back import Back, BackLine
from lastbolt.words.back_watch import NoStop
from lastbolt.words.citation import Citation
from lastbolt.words.place_runs import listed
from lastbolt.words.plan import Line
from lastbolt.words.torque_map import TorqueMap
from lastbolt.words.where import where

HOW = {
    "told": "",
    "reversed": "read the other way round from the removal",
    "proposed": "proposed: no source says how, confirm it",
}
"""Where a line comes from; nothing where it stands in the source as it is."""


class SheetLine(Struct, frozen=True):
    """One line: its box ("", "x" done, "?" to confirm), its words, and beside them what differs and where."""

    box: str
    mark: str
    words: str
    aside: str = ""
    cautions: tuple[tuple[str, str], ...] = ()


class SheetSection(Struct, frozen=True):
    """One section of the way back, with what must be done in one go."""

    title: str
    where: str
    cautions: tuple[tuple[str, str], ...]
    lines: tuple[SheetLine, ...]
    in_one_go: tuple[str, ...] = ()


class LengthLine(Struct, frozen=True):
    """Places that take one length for one reason."""

    length: str
    places: str
    why: str


class SheetMap(Struct, frozen=True):
    """One joint: its torque, order, rounds and lengths in words."""

    name: str
    torque: str
    source: str
    order: str
    order_source: str
    rounds: tuple[str, ...]
    lengths: tuple[LengthLine, ...]
    over: tuple[str, ...]
    doubts: tuple[str, ...]
    beside: tuple[str, ...] = ()
    """What other sections tighten, and what friction makes of the torque."""


class NewLine(Struct, frozen=True):
    """One part that must be new: its box ("x" when it is in), its name and numbers, and beside it where it is
    said, or who put it in."""

    box: str
    words: str
    aside: str


class RefitSheet(Struct, frozen=True):
    """The whole sheet. `sentence` is the largest thing on it."""

    title: str
    machine: str
    sentence: str
    stands: tuple[tuple[str, tuple[str, ...]], ...]
    maps: tuple[SheetMap, ...]
    new_parts: tuple[NewLine, ...]
    sections: tuple[SheetSection, ...]
    wrenches: tuple[WrenchLine, ...] = ()
    adaptor: str = ""


def refit_sheet(
    back: Back,
    account: Account,
    maps: Sequence[TorqueMap],
    blocks: Sequence[NoStop],
    sentence: str,
    renewed: Sequence[str] = (),
) -> RefitSheet:
    """The sheet of one job's way back; `sentence`: the answer, as the terminal has it.

    `renewed`: for each new part who put it in.
    """
    return RefitSheet(
        back.goal, back.machine, sentence,
        stands_shown(account.stands),
        tuple(_map(one) for one in maps),
        new_parts_shown(back, renewed),
        tuple(_sections(back.lines, blocks)),
    )  # fmt: skip


def new_parts_shown(back: Back, renewed: Sequence[str]) -> tuple[NewLine, ...]:
    """The new parts, those that went in ticked."""
    names = (*renewed, *[""] * len(back.new_parts))
    return tuple(
        NewLine(
            "x" if by else "", " ".join((part.part, *part.part_numbers)),
            f"in ({by})" if by else _first(part.citations),
        )
        for part, by in zip(back.new_parts, names, strict=False)
    )  # fmt: skip


def stands_shown(stands: Iterable[Stands]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What stands, each with a box of its own, by what is to be done about it: (what to do, the things)."""
    by: dict[str, Counter[str]] = {}
    for one in stands:
        by.setdefault(one.do, Counter())[one.words] += 1
    return tuple(
        (do, tuple(f"{words} ({times} times)" if times > 1 else words for words, times in counts.items()))
        for do, counts in by.items()
    )


def boxes(back: Back) -> int:
    """How many lines of the way back have a box: the number that every count of them says."""
    return sum(one.line.kind != "opening" for one in back.lines)


def lengths_shown(made: TorqueMap) -> tuple[LengthLine, ...]:
    """The lengths of a joint, one line for all places with one length and one reason."""
    if made.lengths is None:
        return ()
    labels = {one.place: one.label for one in made.places}
    by: dict[tuple[float, str], list[str]] = {}
    for one in made.lengths.placed:
        by.setdefault((one.length_mm or 0.0, one.why), []).append(labels.get(one.place, one.place))
    return tuple(
        LengthLine(f"x{length:g}" if length else "none", listed(places), why)
        for (length, why), places in sorted(by.items(), key=lambda item: (not item[0][0], item[0]))
    )


def _map(made: TorqueMap) -> SheetMap:
    line = made.rounds[-1].places if made.rounds else ()
    rounds = tuple(f"{one.number}: {one.words}" for one in made.rounds) if len(made.rounds) > 1 else ()
    over = made.lengths.over if made.lengths else ()
    torque = made.torque or f"No torque: {made.no_value}. Ask for the maker's value."
    return SheetMap(
        made.name or made.joint, torque, f"{made.source}, {_first(made.citations)}".strip(", "),
        ", ".join(line), made.order_source, rounds, lengths_shown(made),
        tuple(f"{one.count} {one.thread} x {one.length_mm:g}" for one in over), made.doubts,
        (*made.elsewhere, *((made.scatter,) if made.scatter else ())),
    )  # fmt: skip


def box_of(one: BackLine) -> str:
    """What stands in the box of a line: "x" done, "?" to confirm or to answer, "" to do."""
    line = one.line
    if line.kind == "step":
        return "x" if line.state in DONE else ""
    return "x" if line.state == "done" else "?"


def torques_beside(line: Line) -> list[tuple[str, tuple[Citation, ...]]]:
    """Torques that a table gives for a line which does not print them itself, with their pages."""
    found = [(torque_words(value), value.citations) for value in line.torques]
    bare = "".join(line.words.split())
    return [(f"Torque: {said}", cited) for said, cited in found if "".join(said.split()) not in bare]


def _sections(lines: Sequence[BackLine], blocks: Sequence[NoStop]) -> Iterable[SheetSection]:
    runs: list[list[BackLine]] = []
    for one in lines:
        if one.line.kind == "opening" or not runs or runs[-1][-1].line.procedure != one.line.procedure:
            runs.append([])
        runs[-1].append(one)
    begins = {one.first: one for one in blocks}
    for run in runs:
        head = run[0].line if run[0].line.kind == "opening" else None
        title = f"{head.number} {head.words}".strip() if head else _continued(run[0], lines)
        inside = [begins[one.line.id] for one in run if one.line.id in begins]
        yield SheetSection(
            title, _first(head.citations) if head else "",
            tuple((c.signal, c.words) for c in head.cautions) if head else (),
            tuple(_line(one) for one in run if one.line is not head),
            tuple(_in_one_go(one) for one in inside),
        )  # fmt: skip


def _continued(one: BackLine, lines: Iterable[BackLine]) -> str:
    """The title of a section that is taken up again; of lines read from the removal there is none."""
    if one.how != "told":
        return ""
    own = (x.line for x in lines if x.line.kind == "opening" and x.line.procedure == one.line.procedure)
    head = next(own, None)
    return f"{head.number} {head.words} (continued)".strip() if head else ""


def _in_one_go(block: NoStop) -> str:
    long = f"{block.minutes:g} minutes" if block.minutes is not None else "nobody says how long"
    return f"In one go, {block.why}: {long} [{block.source}]. It begins with: {block.words}"


def _line(one: BackLine) -> SheetLine:
    line = one.line
    box = box_of(one)
    said = [HOW[one.how], *(f"not as it came off: {words}" for words in one.exceptions)]
    said += [f"{words} ({_first(citations)})" for words, citations in torques_beside(line)]
    if line.kind in ("confirm", "question") and box == "?":
        said.append(line.question)
    if one.how != "told" or line.kind != "step":
        said.append(_first(line.citations))
    mark = line.mark if one.how == "told" else ""
    only = f"{limit}: " if (limit := limit_beside(line)) else ""
    tags = [*(("left-hand thread",) if line.left_hand else ()), *line.locks]
    words = f"{only}{line.words}" + (f" [{'; '.join(tags)}]" if tags else "")
    cautions = tuple((caution.signal, caution.words) for caution in line.cautions)
    return SheetLine(box, mark, words, " · ".join(part for part in said if part), cautions)


def _first(citations: Sequence[Citation]) -> str:
    return where(citations[0]) if citations else ""
