"""The words that a person says a step has, read by the same rules as the sources."""

from collections.abc import Callable, Iterable

from msgspec.structs import replace

from lastbolt.app.tie_rows import with_rows_tied
from lastbolt.reading.lexicon import Lexicon, lexicon
from lastbolt.reading.procedures import torque_values
from lastbolt.reading.reference_roles import made_reference, role_in_step
from lastbolt.reading.references import Directory, look_up
from lastbolt.reading.step_facts import with_step_facts
from lastbolt.reading.steps import RawReference, read_step
from lastbolt.reading.targets import Found, Target
from lastbolt.reading.titles import read_title, title_key
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import Machine, Procedure, Reference, Section, Step

Reader = Callable[[Step, Procedure, Machine], Step]


def words_reader(language: str = "english") -> Reader:
    """A reader of steps' words; the directory of one model is made once: no correction changes a title."""
    lex = lexicon(language)
    kept: dict[int, tuple[Machine, Directory]] = {}

    def read(step: Step, procedure: Procedure, machine: Machine) -> Step:
        mark = id(machine.sections) if machine.sections else id(machine)
        held = kept.get(mark)
        if held is None:
            kept.clear()
            held = kept[mark] = (machine, _directory(machine, lex))
        made = _read(step, procedure, held[1], lex, callouts=_has_callouts(machine, procedure))
        whole = replace(procedure, steps=(made,))
        fuller = with_step_facts((whole,), {}, language).procedures[0]
        return with_rows_tied(replace(machine, procedures=(fuller,))).procedures[0].steps[0]

    return read


def _read(step: Step, procedure: Procedure, directory: Directory, lex: Lexicon, *, callouts: bool) -> Step:
    facts = read_step(step.words, lex, callouts_in_brackets=callouts)
    own = directory.targets[_section(procedure.id)]
    return replace(
        step,
        deeds=facts.deeds,
        mentions=facts.mentions,
        references=tuple(_references(facts.references, step, own, directory)),
        torques=torque_values(facts, step.citations),
        locks=facts.locks,
        left_hand=facts.left_hand,
        renew=facts.renew,
        tools=facts.tools,
        condition=facts.condition or step.condition,
        limits=(),
        consumables=(),
        numbered_tools=(),
        doubt=facts.doubt,
    )


def _references(
    raws: Iterable[RawReference], step: Step, own: Target, directory: Directory
) -> list[Reference]:
    """Every pointer of the words; one that leads nowhere is kept as such, to be seen."""
    made: list[Reference] = []
    for raw in raws:
        found = look_up(raw, own, directory)
        if found is None:
            if raw.pointer.form in ("own", "demand", "elsewhere"):
                continue
            found = Found((), "dangling")
        role = role_in_step(raw, found, directory)
        identity = f"{step.id}/said/r{len(made) + 1}"
        made.append(made_reference(identity, raw, found, own, role, step.citations))
    return made


def _directory(machine: Machine, lex: Lexicon) -> Directory:
    """The sections of the model as things to point at."""
    procedures = {_section(procedure.id): procedure for procedure in machine.procedures}
    known = {section.id for section in machine.sections}
    targets = [_target(one, procedures.get(one.id), lex) for one in machine.sections]
    bare = (p for identity, p in procedures.items() if identity not in known)
    return Directory([*targets, *(_bare(one, lex) for one in bare)], {}, lex)


def _target(section: Section, procedure: Procedure | None, lex: Lexicon) -> Target:
    title = procedure.title if procedure else section.title
    parts = frozenset(
        word for part in (procedure.parts if procedure else ()) for word in title_key(part, lex)
    )
    pages = _printed(section.citations)
    steps = procedure.steps if procedure else ()
    return Target(
        section.id, section.number, title, title_key(title, lex), read_title(title, lex).deed, parts,
        procedure.id if procedure else None, section.parent, section.id.partition("/")[0],
        pages[0] if pages else "", frozenset(pages),
        counted=tuple(int(step.mark) for step in steps if step.mark.isdecimal()),
    )  # fmt: skip


def _bare(procedure: Procedure, lex: Lexicon) -> Target:
    section = Section(_section(procedure.id), procedure.number, procedure.title, 1, None, "procedure")
    return _target(replace(section, citations=procedure.citations), procedure, lex)


def _printed(citations: Iterable[Citation]) -> tuple[str, ...]:
    places = (citation.place for citation in citations)
    return tuple(one.printed_page for one in places if isinstance(one, PdfPlace) and one.printed_page)


def _section(procedure: str) -> str:
    return procedure.replace("/procedure/", "/section/")


def _has_callouts(machine: Machine, procedure: Procedure) -> bool:
    """Whether numbers in brackets are callouts in this source."""
    source = procedure.id.partition("/")[0]
    own = (one for one in machine.procedures if one.id.startswith(f"{source}/"))
    return any(mention.callouts for one in own for step in one.steps for mention in step.mentions)
