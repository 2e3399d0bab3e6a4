"""Fasteners that the goal's own sections speak of and that lead to no line of the tally.

"Remove the two long bolts from the far side" without size or callout is no row of any list, so no count can
speak for it: each such sentence is asked for like any other holder, until somebody has looked.
"""

from collections.abc import Iterable, Iterator

from lastbolt.app.counts_added import sums
from lastbolt.app.gather_job import Heard
from lastbolt.app.gather_rows import Rows
from lastbolt.app.holder_sources import off_by_step
from lastbolt.app.holder_words import Asked, holder_sort, says
from lastbolt.app.removals import Removal
from lastbolt.planning.names import clauses, same_part, stems
from lastbolt.planning.pairs import TOGETHER
from lastbolt.reading.fasteners import fastener_nouns, names_fastener, read_kind
from lastbolt.reading.lexicon import lexicon
from lastbolt.tally.layout import whole_kind
from lastbolt.words.answer import HolderState
from lastbolt.words.citation import Citation
from lastbolt.words.evidence import Line
from lastbolt.words.machine import Caution, Machine, Mention, Procedure, Step
from lastbolt.words.quantity import Kind

TAKING_OUT = ("remove", "loosen", "separate")
MOST_NAME_WORDS = 8
ANY_SIZE = ("screw", "bolt", "nut")


def untold(
    machine: Machine | None, goals: tuple[str, ...], removed: tuple[Removal, ...], rows: Rows, heard: Heard
) -> tuple[HolderState, ...]:
    """What the goal's sections say of fasteners that no line stands for."""
    if machine is None:
        return ()
    own = {line.id for line in rows.lines if line.belongs != "maybe"}
    number = {line.id for line in rows.lines if line.id in own and _has_number(line)}
    counted = {
        (removal.step.id, removal.mention.name)
        for removal in removed
        if any(rows.line_of.get(row) in number for row in removal.rows)
    }
    counted |= summed_up(machine, goals, removed, rows)
    kinds = [whole_kind(line.kind) for line in rows.lines if line.id in own]
    found: dict[str, HolderState] = {}
    for procedure in machine.procedures:
        if procedure.id in goals:
            for state in (*_of_steps(procedure, counted, heard), *_of_notes(procedure, kinds, heard)):
                found.setdefault(state.id, state)
    return tuple(found.values())


def summed_up(
    machine: Machine, goals: tuple[str, ...], removed: tuple[Removal, ...], rows: Rows
) -> set[tuple[str, str]]:
    """Step and name of "the ten case screws", where the joint's rows, all sizes together, are ten.

    Rows that another step takes out are none of them.
    """
    others = {rows.line_of.get(row) for removal in removed for row in removal.rows}
    lines = [line for line in rows.lines if line.belongs == "wholly" and line.id not in others]
    totals = sums([{p.quantity.low for p in line.printed if p.quantity.low} for line in lines])
    return {
        (step.id, mention.name)
        for procedure in machine.procedures
        if procedure.id in goals
        for step in procedure.steps
        for mention in step.mentions
        if mention.kind is not None and mention.kind.thread is None and mention.kind.what in ANY_SIZE
        if mention.quantity.low == mention.quantity.high and mention.quantity.low in totals
    }


def _has_number(line: Line) -> bool:
    """Whether anything says how many there are of a line; else no count can speak for it."""
    printed = any(p.quantity.low is not None or p.quantity.high is not None for p in line.printed)
    return printed or bool(line.places) or line.on_engine is not None


# ---- steps -------------------------------------------------------------------------------------------


def _of_steps(procedure: Procedure, counted: set[tuple[str, str]], heard: Heard) -> Iterator[HolderState]:
    put_in: list[frozenset[str]] = []
    for step in _until_parted(procedure):
        asked = False
        for mention in step.mentions:
            words = frozenset(stems(mention.name))
            if mention.deed in TOGETHER:
                put_in.append(words)
            elif (
                words not in put_in and (step.id, mention.name) not in counted and _is_fastener(mention, step)
            ):
                asked = True
                yield _asked(procedure, step, mention, heard)
        told = asked or any((step.id, mention.name) in counted for mention in step.mentions)
        takes_out = not step.mentions and any(deed in TAKING_OUT for deed in step.deeds)
        if takes_out or (not told and easily_missed(step.words)):
            yield _asked(procedure, step, Mention(_short(step.words), "remove"), heard)


def _until_parted(procedure: Procedure) -> Iterable[Step]:
    """The steps up to and with the one that takes off what the section is about."""
    for step in procedure.steps:
        yield step
        off = [m for m in step.mentions if m.deed in ("remove", "separate") and m.kind is None]
        if any(same_part(mention.name, part) for mention in off for part in procedure.parts):
            return


def _is_fastener(mention: Mention, step: Step) -> bool:
    """Whether a mention is of a fastener that has to come out, or that the step only points to.

    A step of no deed that is known ("release the swing bolts") may mean that it has to.
    """
    kind = mention.kind or read_kind(mention.name)
    if kind is None or says("tool_screws", mention.name):
        return False
    if mention.deed in TAKING_OUT:
        return True
    return kind.what != "dowel" and (kind.thread is not None or set(step.deeds) <= {"other"})


def _asked(procedure: Procedure, step: Step, mention: Mention, heard: Heard) -> HolderState:
    identity = f"{step.id}#{mention.name}"
    told = off_by_step(procedure, step, mention, _sort(mention.name), heard, identity).state
    name = f"{mention.name} (step {step.mark})" if step.mark else mention.name
    said = told.words if told.settled else f'{told.words} It says: "{step.words.rstrip(".")}".'
    return HolderState(identity, told.sort, name, told.settled, said, told.citations)


def _sort(name: str) -> Asked:
    sort = holder_sort(name)
    return sort if sort is not None and sort[0] in ("circlip", "dowel") else ("fastener not counted", "out?")


def _short(words: str) -> str:
    told = words.split()
    return " ".join(told[:MOST_NAME_WORDS]).rstrip(" .,;") + (" ..." if len(told) > MOST_NAME_WORDS else "")


# ---- notes -------------------------------------------------------------------------------------------


def _of_notes(procedure: Procedure, kinds: list[Kind], heard: Heard) -> Iterator[HolderState]:
    """Notes and text that speak of a fastener of a size that no line has, or of one that is easily missed."""
    cautions = (caution for step in procedure.steps for caution in step.cautions)
    notes: list[Caution] = [*procedure.cautions, *cautions]
    texts = [(note.words, note.citations or procedure.citations) for note in notes]
    for text, citations in (*texts, (procedure.text, procedure.citations)):
        for sentence in clauses(text):
            if _speaks_of_one(sentence, kinds):
                yield _noted(procedure, sentence.strip(), citations, heard)


def _speaks_of_one(sentence: str, kinds: list[Kind]) -> bool:
    if easily_missed(sentence):
        return True
    nouns = fastener_nouns(lexicon().scan(sentence))
    said = [kind for noun in nouns if (kind := read_kind(sentence[noun.start :])) and kind.thread]
    return any(all(whole_kind(kind).matches(other) == "no" for other in kinds) for kind in said)


def easily_missed(words: str) -> bool:
    """Whether words speak of a fastener where nobody looks: behind, hidden, from the far side."""
    return says("easily_missed", words) and names_fastener(words)


def _noted(procedure: Procedure, sentence: str, citations: tuple[Citation, ...], heard: Heard) -> HolderState:
    name = _short(sentence)
    identity = f"{procedure.id}#{sentence}"
    how = heard.settling(identity)
    where = procedure.number or procedure.title
    words = how or f'out? Section {where} says: "{sentence}"'
    return HolderState(identity, "fastener not counted", name, bool(how), words, citations)
