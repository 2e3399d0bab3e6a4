"""A plan as a DITA 1.3 machinery task.

Structure: OASIS, DITA 1.3 Part 3 (with Errata 02), machinery task topic, task requirements domain, task; the
grammar files `machineryTaskbodyConstraint.mod`, `taskreqDomain.mod`, `task.mod`. Where each line comes from
stands in `data` elements named "source": they are no text, so that a word of the source is not told twice.
"""

from collections.abc import Iterable, Sequence

from lastbolt.app.export_content import Content, Doing, Group, Part, Said, Warned, content_of, notices_of
from lastbolt.app.xml_text import name_of, node, with_attributes, xml_text
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan
from lastbolt.words.tree import Element

DOCTYPE = '<!DOCTYPE task PUBLIC "-//OASIS//DTD DITA 1.3 Machinery Task//EN" "machineryTask.dtd">'


def dita_task(plan: Plan, machine: Machine) -> str:
    """The plan as the text of a machinery task; the machine gives titles, supplies and counts of spares."""
    content = content_of(plan, machine)
    body = node(
        "taskbody",
        _requirements(content),
        _section("Before it comes off", content.before_off),
        _section("Where the sources disagree", content.to_compare),
        _section("Left out on purpose", content.left_out),
        node("steps", *_steps(content.groups)) if content.groups else None,
        _within("closereqs", _conditions(content.goes_back)),
    )
    goal = f'Made for the goal "{content.goal}". {content.state}'
    about = f"{goal} For: {content.engine}." if content.engine else goal
    topic = node(
        "task", node("title", content.title), node("shortdesc", about), _prolog(content), body,
        id=name_of(content.title, "plan"),
    )  # fmt: skip
    return xml_text(with_attributes(topic, {"xml:lang": "en"}), DOCTYPE)


def _prolog(content: Content) -> Element | None:
    if not content.sources:
        return None
    return node("prolog", *_data(content.sources))


def _requirements(content: Content) -> Element:
    """In the order that the grammar asks for. What no source names is left out: "none" would be a claim."""
    return node(
        "prelreqs",
        _conditions(content.required),
        _within("supequip", _list("supeqli", "supequi", content.tools)),
        _within("supplies", _list("supplyli", "supply", content.supplies)),
        _within("spares", _spares(content.spares)),
        node("safety", *(node("safecond", _note(one)) for one in _safety(content))),
    )


def _safety(content: Content) -> Iterable[Warned]:
    """What the plan says of itself, then the warnings for all work."""
    return (*(Warned("note", words) for words in notices_of(content)), *content.general)


def _within(name: str, inside: Element | None) -> Element | None:
    return node(name, inside) if inside else None


def _conditions(said: Sequence[Said]) -> Element | None:
    if not said:
        return None
    return node("reqconds", *(node("reqcond", one.words, _draft(one.do), *_data(one.places)) for one in said))


def _draft(do: str) -> Element | None:
    """What whoever answers for the document does before it goes out: no words of the document itself."""
    return node("draft-comment", do) if do else None


def _list(name: str, item: str, parts: Sequence[Part]) -> Element | None:
    return node(name, *(node(item, one.name, *_data(one.places)) for one in parts)) if parts else None


def _spares(parts: Sequence[Part]) -> Element | None:
    if not parts:
        return None
    named = ((f"{part.many} x {part.name}" if part.many else part.name, part.places) for part in parts)
    return node("sparesli", *(node("spare", words, *_data(places)) for words, places in named))


def _section(title: str, said: Sequence[Said]) -> Element | None:
    if not said:
        return None
    entries = (node("li", one.words, *_data(one.places)) for one in said)
    return node("section", node("title", title), node("ul", *entries))


def _steps(groups: Iterable[Group]) -> Iterable[Element]:
    for group in groups:
        if group.heads:
            yield node("stepsection", *(node("p", one.words, *_data(one.places)) for one in group.heads))
        for index, line in enumerate(group.lines):
            yield _step(line, group.cautions if index == 0 else ())


def _step(line: Doing, before: Sequence[Warned]) -> Element:
    """Warnings first; what belongs to the doing in `info`, what to look at in `stepresult`."""
    return node(
        "step",
        *(_note(one) for one in (*before, *line.cautions)),
        node("cmd", line.words, *_data(line.places)),
        node("info", *(node("p", words) for words in line.facts)) if line.facts else None,
        node("stepresult", *(node("p", words) for words in line.asides)) if line.asides else None,
        id=f"line-{line.number}",
    )


def _note(warned: Warned) -> Element:
    """No hazard statement: it parts hazard, consequence and avoidance, which the source's words do not."""
    return node("note", warned.words, *_data(warned.places), type=warned.signal)


def _data(places: Iterable[str]) -> Iterable[Element]:
    return (node("data", name="source", value=place) for place in places)
