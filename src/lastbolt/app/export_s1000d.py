"""A plan as an S1000D procedural data module, issue 4.1.

Structure after S1000D issue 4.1, chapters 3.9.5.1 (identification and status section), 3.9.5.2.1 (common
constructs: preliminary requirements, requirements after job completion) and 3.9.5.2.3 (procedural), from
memory, without the schema at hand. Where each line comes from stands in the remarks of the status section: no
element inside the procedure holds words that are none of it.
"""

import datetime
import re
import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence

from lastbolt.app.export_content import Content, Doing, Group, Part, Said, Warned, content_of, notices_of
from lastbolt.app.xml_text import node, with_attributes, xml_text
from lastbolt.words.machine import Deed, Machine
from lastbolt.words.plan import Plan
from lastbolt.words.tree import Element

SCHEMA = "http://www.s1000d.org/S1000D_4-1/xml_schema_flat/proced.xsd"
INFO_CODE: Mapping[Deed, str] = {
    "remove": "520", "separate": "530", "install": "720", "join": "710", "drain": "220", "fill": "210",
    "check": "310",
}  # fmt: skip
"""What is done -> information code (chapter 8.4, from memory); 900 where none of them fits."""
NOT_NAMED = "Not named"
_CODE = re.compile("[^A-Z0-9]")
_ORDER = {"danger": 0, "warning": 0, "caution": 1, "note": 2}
"""Warnings before cautions before notes: chapter 3.9.5.2.1.3, from memory."""


def s1000d_module(plan: Plan, machine: Machine, dated: datetime.date) -> str:
    """The plan as the text of a procedural module; `dated`: its issue date."""
    content = content_of(plan, machine)
    procedure = node(
        "procedure",
        _preliminary(content),
        node("mainProcedure", *_main(content.groups)),
        node("closeRqmts", _conditions(content.goes_back)),
    )
    refs = _references(content.sources)
    root = node("dmodule", _status_section(content, plan, dated), node("content", refs, procedure))
    schema = {
        "xmlns:xsi": "http://www.w3.org/2001/XMLSchema-instance",
        "xsi:noNamespaceSchemaLocation": SCHEMA,
    }
    return xml_text(with_attributes(root, schema))


def module_code(content: Content, plan: Plan) -> dict[str, str]:
    """A data module code made of the machine's name and the goal: to be replaced by the project's own."""
    model = _CODE.sub("", plan.machine.upper())[:14]
    told = "\n".join((plan.machine, *plan.procedures, content.engine)).encode(errors="replace")
    return {
        "modelIdentCode": model if len(model) > 1 else "MACHINE",
        "systemDiffCode": "A", "systemCode": "00", "subSystemCode": "0", "subSubSystemCode": "0",
        "assyCode": f"{zlib.crc32(told) & 0xFFFF:04X}",
        "disassyCode": "00", "disassyCodeVariant": "A",
        "infoCode": INFO_CODE.get(content.deed, "900"), "infoCodeVariant": "A", "itemLocationCode": "D",
    }  # fmt: skip


def _status_section(content: Content, plan: Plan, dated: datetime.date) -> Element:
    """Issue 000, in work 01: nobody has released it."""
    ident = node(
        "dmIdent",
        node("dmCode", **module_code(content, plan)),
        node("language", languageIsoCode="en", countryIsoCode="GB"),
        node("issueInfo", issueNumber="000", inWork="01"),
    )
    part = content.part[:1].upper() + content.part[1:]
    items = node(
        "dmAddressItems",
        node("issueDate", year=f"{dated:%Y}", month=f"{dated:%m}", day=f"{dated:%d}"),
        node("dmTitle", node("techName", part or content.title), node("infoName", content.title)),
    )
    status = node(
        "dmStatus",
        node("security", securityClassification="01"),
        node("responsiblePartnerCompany", node("enterpriseName", NOT_NAMED)),
        node("originator", node("enterpriseName", NOT_NAMED)),
        node("applic", node("displayText", node("simplePara", content.engine or "All"))),
        node("brexDmRef", node("dmRef", node("dmRefIdent", node("dmCode", **_RULES)))),
        node("qualityAssurance", node("unverified")),
        node("remarks", *(node("simplePara", words) for words in _remarks(content))),
        issueType="new",
    )
    return node("identAndStatusSection", node("dmAddress", ident, items), status)


_RULES = {
    "modelIdentCode": "S1000D", "systemDiffCode": "E", "systemCode": "04", "subSystemCode": "1",
    "subSubSystemCode": "0", "assyCode": "0301", "disassyCode": "00", "disassyCodeVariant": "A",
    "infoCode": "022", "infoCodeVariant": "A", "itemLocationCode": "D",
}  # fmt: skip
"""The business rules that issue 4.1 itself gives (chapter 4.10.3, from memory)."""


def _remarks(content: Content) -> Iterator[str]:
    """What the plan was made for, what it leaves out, what is to be settled, the places behind each line."""
    yield f'Made for the goal "{content.goal}". {content.state}'
    yield "The code of this module and its companies are to be given by the project that takes it over."
    for one in content.left_out:
        yield f"Left out on purpose: {_with_places(one)}"
    for one in content.required:
        yield f"Required condition: {_with_places(one)}"
    for warned in content.general:
        yield f"For all work: {_with_places(Said(warned.words, warned.places))}"
    for one in (*content.before_off, *content.to_compare):
        yield f"Safety condition: {_with_places(one)}"
    for part in (*content.tools, *content.supplies):
        yield f"To have ready: {_with_places(Said(part.name, part.places))}"
    for part in content.spares:
        yield f"Spare: {_with_places(Said(part.name, part.places))}"
    for step, group in enumerate(content.groups, 1):
        places = _sorted_places(group.heads, group.cautions)
        if places:
            yield f"Step {step}: {places}."
        for index, line in enumerate(group.lines, 1):
            places = _sorted_places((Said(line.words, line.places),), line.cautions)
            if places:
                yield f"Step {step}.{index}, line {line.number} of the plan: {places}."
    for one in content.goes_back:
        yield f"After the job: {_with_places(one)}"


def _with_places(said: Said) -> str:
    told = " ".join(part for part in (said.words, said.do) if part)
    return f"{told} ({'; '.join(said.places)})" if said.places else told


def _sorted_places(said: Iterable[Said], cautions: Iterable[Warned]) -> str:
    places = [place for one in said for place in one.places]
    places += [place for one in cautions for place in one.places]
    return "; ".join(dict.fromkeys(places))


def _references(sources: Sequence[str]) -> Element | None:
    titles = (node("externalPubRefIdent", node("externalPubTitle", one)) for one in sources)
    return node("refs", *(node("externalPubRef", title) for title in titles)) if sources else None


def _preliminary(content: Content) -> Element:
    """The module must say each kind, or that there is none of it: none that the sources name."""
    equipment = (_described("supportEquipDescr", part) for part in content.tools)
    supplies = (_described("supplyDescr", part) for part in content.supplies)
    spares = (_described("spareDescr", part) for part in content.spares)
    notices = (Said(words) for words in notices_of(content))
    notes = (Warned("note", one.words) for one in (*notices, *content.before_off, *content.to_compare))
    return node(
        "preliminaryRqmts",
        _conditions(content.required),
        _group("reqSupportEquips", "supportEquipDescrGroup", tuple(equipment), "noSupportEquips"),
        _group("reqSupplies", "supplyDescrGroup", tuple(supplies), "noSupplies"),
        _group("reqSpares", "spareDescrGroup", tuple(spares), "noSpares"),
        node("reqSafety", node("safetyRqmts", *_warnings((*content.general, *notes)))),
    )


def _conditions(said: Sequence[Said]) -> Element:
    conditions = (node("reqCondNoRef", node("reqCond", one.words)) for one in said)
    return node("reqCondGroup", *conditions) if said else node("reqCondGroup", node("noConds"))


def _group(name: str, group: str, inside: Sequence[Element], none: str) -> Element:
    return node(name, node(group, *inside)) if inside else node(name, node(none))


def _described(name: str, part: Part) -> Element:
    """A quantity that no source gives stays empty; a part number stands in the name: its maker is unknown."""
    return node(name, node("name", part.name), node("reqQuantity", part.many))


def _main(groups: Iterable[Group]) -> Iterator[Element]:
    for number, group in enumerate(groups, 1):
        heads = (Warned("note", one.words) for one in group.heads)
        warnings = _warnings((*group.cautions, *heads))
        lines = (_step(line) for line in group.lines)
        yield node("proceduralStep", *warnings, *lines, id=f"stp-g{number:04}")


def _step(line: Doing) -> Element:
    words = (line.words, *line.facts, *line.asides)
    paragraphs = (node("para", one) for one in words)
    return node("proceduralStep", *_warnings(line.cautions), *paragraphs, id=f"stp-{line.number:04}")


def _warnings(warned: Iterable[Warned]) -> Iterator[Element]:
    return (_warning(one) for one in sorted(warned, key=lambda one: _ORDER[one.signal]))


def _warning(warned: Warned) -> Element:
    """S1000D knows no danger: it is a warning that keeps its signal word."""
    if warned.signal == "note":
        return node("note", node("notePara", warned.words))
    words = f"DANGER: {warned.words}" if warned.signal == "danger" else warned.words
    name = "caution" if warned.signal == "caution" else "warning"
    return node(name, node("warningAndCautionPara", words))
