"""What the book says of a joint beside its counted fasteners: sentences that a person has to read.

No list of words holds every way in which a book may tell of one more screw or wedge. So it goes the other way
round: of the goal's own sections, and of those that put the joint together again, each step before it parts
and each sentence about a fastener is asked for, unless counted fasteners explain all of it. Elsewhere it is
asked where the sentence names the joint too.
"""

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from lastbolt.app.across_joint import held_across, holds_besides, named_in, taken_off
from lastbolt.app.gather_job import Heard
from lastbolt.app.holder_words import listed, says
from lastbolt.app.known_of_joint import Known
from lastbolt.app.other_numbers import agrees, counts_of, number_in, unexplained
from lastbolt.app.other_tongue import in_other_tongue
from lastbolt.app.own_pages import Spans, cited_there, fastener_rows, spans_of, tools_there
from lastbolt.planning.force import uses_force
from lastbolt.planning.names import ends_in, same_part, stems
from lastbolt.planning.names import words as plan_words
from lastbolt.planning.pairs import Pairs
from lastbolt.reading.fasteners import names_fastener
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.mentions import facts_in
from lastbolt.tally.layout import whole_kind
from lastbolt.words.answer import HolderState
from lastbolt.words.citation import Citation
from lastbolt.words.joint import HolderSort
from lastbolt.words.machine import Caution, Deed, Machine, Mention, Procedure, Step
from lastbolt.words.quantity import Kind
from lastbolt.words.sentences import split

_LABEL = r"(?:[A-Za-z]?\d\w*|[A-Za-z]\b)"
_AT_PLACES = re.compile(
    rf"\b(?:positions?|places?|boss|bosses|holes?) ({_LABEL}(?:\s*(?:,|-|–|&|\band\b|\bto\b)+\s*{_LABEL})*)",
    re.IGNORECASE,
)
_CLAUSE = re.compile(r"(?:[,;]|\band\b)(?!\s*(?:its?|their|they|which|that|this|these)\b)", re.IGNORECASE)
MARK = "\0"
SHORTEST = 25
"""Words of a citation from which on they stand for their sentence."""
MOST_QUOTED, LONGEST = 40, 160
"""So many passages are quoted, each to so many letters; their pages are cited."""
SORTS: dict[str, HolderSort] = {
    "dowel": "dowel",
    "nut": "shaft-end nut",
    "ring": "circlip",
    "clip": "circlip",
}
"""A fastener of this sort is one of the holders that are asked for, where there is one of that sort."""
HARMLESS: frozenset[Deed] = frozenset(("install", "join", "tighten", "fill", "drain", "mark", "check"))
"""Nothing that holds is left in by a step of these deeds."""


class Question(NamedTuple):
    """What is asked, and the word that settles it when all is well."""

    ask: str
    answer: str


READ = Question("read it: does it tell of anything that still holds?", "read")
DONE = Question("all done?", "done")


class Passage(NamedTuple):
    """Words of the book: `where` within its section, `step` its id if it is one."""

    where: str
    words: str
    citations: tuple[Citation, ...] = ()
    step: str = ""
    takes_off: str = ""
    """What a step of another section takes off or lets go, where it is no fastener."""


def book_says(
    machine: Machine | None, goals: tuple[str, ...], known: Known, heard: Heard
) -> tuple[HolderState, ...]:
    """What is to be done before it parts, what its sections say besides, and what is said of it elsewhere."""
    if machine is None:
        return ()
    closing = Pairs(machine).closing(goals)
    found: list[HolderState] = []
    for procedure in machine.procedures:
        if procedure.id in goals:
            found += _steps(procedure, known, heard)
            found += _notes(procedure, _own_words(procedure), known, heard)
    own = spans_of([*(one for one in machine.procedures if one.id in goals), *closing])
    beside = [*_tools_there(machine, own), *_torques_there(machine, own)]
    lines = [*_rows_there(machine, own, known), *_open(beside, known)]
    found += asked_of(("book#tables", "tables of the section"), lines, heard)
    for procedure in closing:
        found += _notes(procedure, (*_closing_steps(procedure), *_own_words(procedure)), known, heard)
    read = {*goals, *(procedure.id for procedure in closing)}
    elsewhere = [one for one in _elsewhere(machine, read) if names_joint(one.words, known)]
    found += asked_of(("book#elsewhere", "what is said elsewhere"), _open(elsewhere, known), heard)
    return tuple(found)


# ---- steps before it parts ---------------------------------------------------------------------------


def _steps(procedure: Procedure, known: Known, heard: Heard) -> Iterator[HolderState]:
    passages = [
        passage
        for passage in _before_it_parts(procedure, known)
        if not _is_asked(passage.words, passage.step, known)
    ]
    ticks = [heard.steps.get(one.step) or heard.procedures.get(procedure.id) for one in passages]
    by = dict.fromkeys(tick.by for tick in ticks if tick is not None and tick.done)
    looked = all(tick is not None and tick.done and tick.looked for tick in ticks)
    done = f"ticked and looked at by {', '.join(by)}" if looked else ""
    name = f"steps of {procedure.number or procedure.title}"
    yield from asked_of((f"{procedure.id}#steps", name), passages, heard, DONE, done)


def _before_it_parts(procedure: Procedure, known: Known) -> Iterator[Passage]:
    """The steps before force parts the joint, and what the one that parts it says of further fasteners.

    Passed over: what takes out counted fasteners or parts asked for by themselves and nothing besides, and
    what only marks, checks, drains or puts a tool in.
    """
    for step in procedure.steps:
        where = f"step {step.mark}" if step.mark else ""
        if _parts_it(step, procedure, known):
            for sentence in sentences(step.words):
                if not explained(sentence, known):
                    yield Passage(where, sentence, step.citations, step.id)
            return
        if not all(_is_covered(sentence, step, known) for sentence in sentences(step.words)):
            yield Passage(where, _with_counts(step), step.citations, step.id)


def _with_counts(step: Step) -> str:
    """The words of a step, with a count that a table prints beside them and that is no single number."""
    beside = [one.quantity.words for one in step.mentions if one.quantity.low is None]
    told = [words for words in beside if number_in(words) and words not in step.words]
    return f"{step.words.rstrip(' .')} ({'; '.join(told)})" if told else step.words


def _parts_it(step: Step, procedure: Procedure, known: Known) -> bool:
    """Whether a step takes off what the section is about, separates parts of the joint, or presses it."""
    off = [one for one in step.mentions if one.deed in ("remove", "separate")]
    halves = says("of_halves", step.words)
    of_joint = any(
        any(same_part(one.name, part) for part in procedure.parts)
        or (one.deed == "separate" and (halves or set(stems(one.name)) & known.joint))
        for one in off
        if one.kind is None
    )
    return of_joint or (not off and uses_force(step.words))


def _is_covered(sentence: str, step: Step, known: Known) -> bool:
    """Whether a sentence takes out what is counted or asked for by itself, or nothing that holds."""
    if says("and_more", sentence):
        return False
    facts = facts_in(lexicon().scan(sentence), lexicon(), callouts_in_brackets=True)
    named = named_in(sentence, step)
    fasteners = [one for one in (*facts.mentions, *named) if one.kind]
    counted_so = all(agrees(one.quantity, known.counts) for one in fasteners)
    asked = [set(stems(state.name)) for state in known.asked]
    if in_other_tongue(sentence):
        return False
    if named and all((step.id, one.name) in known.counted or set(stems(one.name)) in asked for one in named):
        return counted_so and not _more_than_counted(sentence, known) and not holds_besides(sentence, named)
    begun = any((step.id, one.name) in known.counted for one in step.mentions)
    deeds = set(facts.deeds)
    harmless = deeds <= HARMLESS or (begun and deeds == {"other"} and not named and not number_in(sentence))
    return bool(deeds) and harmless and explained(sentence, known)


# ---- sentences ---------------------------------------------------------------------------------------


def _notes(
    procedure: Procedure, passages: Iterable[Passage], known: Known, heard: Heard
) -> Iterator[HolderState]:
    name = f"what {procedure.number or procedure.title} says"
    yield from asked_of((f"{procedure.id}#says", name), _open(passages, known), heard)


def _own_words(procedure: Procedure) -> Iterator[Passage]:
    """Cautions, notes and text of a section, sentence by sentence."""
    notes: list[Caution] = [
        *procedure.cautions,
        *(note for step in procedure.steps for note in step.cautions),
    ]
    for note in notes:
        for sentence in sentences(note.words):
            yield Passage("", sentence, note.citations or procedure.citations)
    for sentence in sentences(procedure.text):
        yield Passage("", sentence, procedure.citations)


def _rows_there(machine: Machine, own: Spans, known: Known) -> Iterator[Passage]:
    counted = {one.citation.words for line in known.lines for one in line.printed if one.citation}
    for row in fastener_rows(machine, own):
        weighed = any(citation.words in counted for citation in row.citations)
        if not weighed and not _explains(Mention(row.name, "other", row.quantity, row.kind), known):
            words = f"{row.quantity.words} {row.name} {row.positions}"
            yield Passage(row.table, words.strip(), row.citations)


def _tools_there(machine: Machine, own: Spans) -> Iterator[Passage]:
    for tool in tools_there(machine, own):
        yield Passage("", tool.words.replace(" | ", "; "), tool.citations)


def _torques_there(machine: Machine, own: Spans) -> Iterator[Passage]:
    """Lines of torque tables on the sections' own pages: they may name one more fastener."""
    for row in machine.torques:
        if cited_there(row.citations, own):
            yield Passage("torque table", f"{row.thread or ''} {row.what}".strip(), row.citations)


def _closing_steps(procedure: Procedure) -> Iterator[Passage]:
    for step in procedure.steps:
        yield Passage(f"step {step.mark}" if step.mark else "", step.words, step.citations, step.id)


def _elsewhere(machine: Machine, read: set[str]) -> Iterator[Passage]:
    """Sentences of other sections, steps across the joint, and the lines of torque tables."""
    for section in machine.sections:
        if section.id not in read:
            for sentence in sentences(section.text):
                yield Passage(section.number, sentence, section.citations)
    for procedure in machine.procedures:
        if procedure.id not in read:
            for passage in _own_words(procedure):
                yield passage._replace(where=procedure.number)
            for step in procedure.steps:
                for sentence in sentences(step.words):
                    if says("crosses_joint", sentence):
                        where = f"{procedure.number} step {step.mark}".strip()
                        yield Passage(where, sentence, step.citations, step.id, takes_off=taken_off(step))
    for row in machine.torques:
        words = row.citations[0].words if row.citations else f"{row.what} {row.thread or ''}".strip()
        yield Passage("torque table", words, row.citations)


def names_joint(words: str, known: Known) -> bool:
    """Whether a sentence names the joint: "cover" alone may be another one's."""
    special = known.joint - {*plan_words()["says_little"]["casing"], *listed("any_joints")}
    return bool(set(stems(words)) & (special or known.joint)) or says("of_halves", words)


def sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text of the model."""
    return split(text, lexicon().abbreviations)


def _open(passages: Iterable[Passage], known: Known) -> list[Passage]:
    return [
        passage
        for passage in passages
        if not _is_asked(passage.words, passage.step, known)
        and (
            not explained(passage.words, known)
            or held_across(passage.words, passage.takes_off, known.joint, known.asked)
        )
    ]


def explained(words: str, known: Known) -> bool:
    """Whether the joint's own counted fasteners are all that a sentence speaks of.

    What it says of a place that is known is asked for there.
    """
    if says("only_warns", words) and not says("easily_missed", words):
        return True
    if says("holds_in_words", words):
        return False
    if any(not _all_known(run[1], known) for run in _AT_PLACES.finditer(words)):
        return False
    return _fasteners_explained(_without_places(words, known), known)


def _without_places(words: str, known: Known) -> str:
    """The clauses that speak of no place, or of one that nobody knows: the others are asked for there."""
    marked = _AT_PLACES.sub(lambda run: MARK if _all_known(run[1], known) else run[0], words)
    if marked == words:
        return words
    return ", ".join(clause for clause in _CLAUSE.split(marked) if MARK not in clause)


def _all_known(labels: str, known: Known) -> bool:
    return set(re.findall(_LABEL, labels)) <= set(known.places)


def _fasteners_explained(words: str, known: Known) -> bool:
    facts = facts_in(lexicon().scan(words), lexicon(), callouts_in_brackets=True)
    tools = [*plan_words()["way_back"]["not_parts"], *listed("tool_screws")]
    fasteners = [one for one in facts.mentions if one.kind is not None and not ends_in(one.name, tools)]
    meant = bool(fasteners) or says("stands_for_them", words)
    if meant and says("easily_missed", words):
        return False
    if (meant or says("of_fasteners", words)) and _more_than_counted(words, known):
        return False
    return all(_explains(mention, known) and not _one_alone(mention, words, known) for mention in fasteners)


def _one_alone(mention: Mention, words: str, known: Known) -> bool:
    """Whether it speaks of one screw, "the screw under the breather", where each count is of several."""
    one = mention.name.split()[-1].casefold() in listed("one_of_them")
    if not one or mention.kind is None or mention.kind.thread or says("of_any", words):
        return False
    return 1 not in {count for line in known.lines for count in counts_of(line)}


def _more_than_counted(words: str, known: Known) -> bool:
    """Whether it has a number that no count of the joint explains."""
    return bool(known.counts) and unexplained(words, known.counts)


def _explains(mention: Mention, known: Known) -> bool:
    kind = whole_kind(mention.kind or Kind())
    if kind.what in SORTS:
        sort = SORTS[kind.what]
        if any(state.sort == sort for state in known.asked):
            return True
    if kind.thread is None:
        general = set(stems(mention.name)) <= {*known.joint, *listed("general_names")}
        return general and agrees(mention.quantity, known.counts)
    same = [line for line in known.lines if whole_kind(line.kind).matches(kind) != "no"]
    return bool(same) and agrees(mention.quantity, [count for line in same for count in counts_of(line)])


def _is_asked(words: str, step: str, known: Known) -> bool:
    """Whether it is asked for by itself already, as a step or with these words."""
    own = words.rstrip(" .;:")
    for state in known.asked:
        told = [state.words, *(citation.words for citation in state.citations)]
        if step and state.id.startswith(f"{step}#"):
            return True
        if any(own in one for one in told):
            return state.sort == "fastener not counted" or not _more_in_it(own, state, known)
        clauses = [one.rstrip(" .;:") for one in told if len(one) >= SHORTEST]
        rests = [own.replace(one, " ", 1) for one in clauses if one in own]
        if any(
            _fasteners_explained(rest, known) and not (names_fastener(rest) and number_in(rest))
            for rest in rests
        ):
            return True
    return False


def _more_in_it(sentence: str, state: HolderState, known: Known) -> bool:
    """Whether a sentence that is quoted for a part speaks of a fastener in another clause."""
    return any(
        names_fastener(clause)
        and not set(stems(state.name)) & set(stems(clause))
        and not _fasteners_explained(clause, known)
        for clause in re.split(r"[,;]", sentence)
    )


# ---- the holder --------------------------------------------------------------------------------------


def asked_of(
    called: tuple[str, str],
    passages: list[Passage],
    heard: Heard,
    question: Question = READ,
    done: str = "",
) -> Iterator[HolderState]:
    """One holder for all of these passages, none where there are none; `called`: its id and its name."""
    if not passages:
        return
    identity, name = called
    how = heard.settling(identity) or done
    told = [f'{one.where} "{_quoted(one.words)}"'.strip() for one in passages[:MOST_QUOTED]]
    more = f"; and {len(passages) - MOST_QUOTED} more" if len(passages) > MOST_QUOTED else ""
    cited = tuple(dict.fromkeys(citation for one in passages for citation in one.citations[:1]))
    words = how or f"{question.ask} {'; '.join(told)}{more}"
    yield HolderState(identity, "other", name, bool(how), words, cited, answer=question.answer)


def _quoted(words: str) -> str:
    short = words.rstrip(" .;:")
    return short if len(short) <= LONGEST else f"{short[:LONGEST].rstrip()} ..."
