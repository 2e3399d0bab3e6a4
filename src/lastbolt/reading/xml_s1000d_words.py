"""The running text of an S1000D module: paragraphs with their links, and what its ids stand for.

Element names are those of issue 4.0 and later (S1000D chapter 3.9.5.2, content section; from memory).
"""

from collections.abc import Mapping, Sequence

from lastbolt.reading.xml_drafts import Link, Phrase, PhraseMaker
from lastbolt.reading.xml_modules import ANY
from lastbolt.words.tree import Element

BLOCKS = frozenset((
    "para", "listItem", "notePara", "warningAndCautionPara", "title", "row", "definitionListItem",
    "simplePara", "attentionListItemPara", "attentionSequentialListItem", "attentionRandomListItem",
))  # fmt: skip
ASIDE = frozenset((
    "warning", "caution", "note", "figure", "multimedia", "foldout", "proceduralStep", "footnote",
    "indexFlag", "acronymDefinition", "warningsAndCautions", "crewDrill", "graphic", "symbol",
))  # fmt: skip
"""What is no part of the running text: read elsewhere, or nothing to read."""
_REFERENCES = ("dmRef", "pmRef", "externalPubRef", "catalogSeqNumberRef")
_CODE = (
    ("modelIdentCode",), ("systemDiffCode",), ("systemCode",), ("subSystemCode", "subSubSystemCode"),
    ("assyCode",), ("disassyCode", "disassyCodeVariant"), ("infoCode", "infoCodeVariant"),
    ("itemLocationCode",),
)  # fmt: skip


def module_code(code: Element | None) -> str:
    """A data module code as it is written (chapter 4.3); a part that is not said is any.

    Args:
        code: the `dmCode` element
    """
    if code is None:
        return ""
    parts = ["".join(code.get(name) or ANY for name in names) for names in _CODE]
    learn = code.get("learnCode") + code.get("learnEventCode")
    return "-".join([*parts, learn] if learn else parts).upper()


def deleted(element: Element) -> bool:
    """Whether the source marks the element as taken out in this issue."""
    return element.get("changeType", "change") == "delete"


class Words:
    """Gathers the text of one module; `step_marks` are known before any text is read."""

    def __init__(
        self, key: str, ids: Mapping[str, Element], step_marks: Mapping[str, str], titles: Mapping[str, str]
    ) -> None:
        self.titles = titles
        self.key = key
        self.ids = ids
        self.step_marks = step_marks

    def phrase(self, elements: Sequence[Element]) -> Phrase:
        """The words of some elements, one after the other."""
        maker = PhraseMaker()
        for element in elements:
            if element.name in _REFERENCES:
                maker.add(" (")
                self._reference(element, maker)
                maker.add(") ")
                continue
            maker.block()
            self._into(element, maker)
        return maker.finish()

    def _into(self, element: Element, maker: PhraseMaker) -> None:
        for part in element.content:
            if isinstance(part, str):
                maker.add(part)
            elif part.name in ASIDE or deleted(part):
                maker.add(" ")
            elif part.name in ("internalRef", *_REFERENCES):
                self._reference(part, maker)
            elif part.name == "quantity":
                maker.add(quantity_words(part))
            elif part.name == "partRef":
                maker.add(part.get("partNumberValue") or part.words())
            else:
                if part.name in BLOCKS:
                    maker.block()
                self._into(part, maker)
                if part.name == "entry":
                    maker.add(" ")

    def _reference(self, element: Element, maker: PhraseMaker) -> None:
        if element.name == "dmRef":
            maker.link(module_link(element, self.titles))
        elif element.name in ("pmRef", "externalPubRef"):
            code, title = (
                element.first("externalPubCode", "pmCode"),
                element.first("externalPubTitle", "pmTitle"),
            )
            called = " ".join(e.words() for e in (code, title) if e is not None and e.words())
            maker.link(Link("", called or element.words() or "another publication", outside=True))
        elif element.name == "catalogSeqNumberRef":
            maker.add(f" ({item_of(element)}) ")
        else:
            self._internal(element, maker)

    def _internal(self, element: Element, maker: PhraseMaker) -> None:
        """A reference inside the module, as what it leads to is called (chapter 3.9.5.2.1.2)."""
        to = element.get("internalRefId")
        target, own = self.ids.get(to), element.words()
        if to in self.step_marks:
            mark = self.step_marks[to]
            maker.link(Link(self.key, own or f"step {mark}", fragment=to, own=True))
        elif target is None:
            maker.link(Link(f"{self.key} #{to}", own or to))
        elif target.name == "hotspot":
            maker.add(f" ({own or hotspot_name(target)}) ")
        elif target.name in ("supportEquipDescr", "supplyDescr", "spareDescr"):
            maker.add(own or name_of(target))
        elif target.name in ("figure", "table"):
            maker.add(own or _titled(target))
        else:
            maker.add(own)


def figures_in(elements: Sequence[Element], ids: Mapping[str, Element]) -> list[str]:
    """The ids of the figures that elements hold or point at, by figure or by hotspot."""
    found: list[str] = []
    owners = {
        e.get("id"): f
        for f, figure in ids.items()
        if figure.name == "figure"
        for e in figure.below("hotspot")
    }
    for element in elements:
        if element.name == "figure":
            found.append(element.get("id"))
        for one in ([element] if element.name == "internalRef" else []) + list(
            element.below("internalRef", "figure")
        ):
            to = one.get("id") if one.name == "figure" else one.get("internalRefId")
            target = ids.get(to)
            if target is not None and target.name in ("figure", "hotspot"):
                found.append(to if target.name == "figure" else owners.get(to, ""))
    return [f for f in dict.fromkeys(found) if f]


def module_link(reference: Element, titles: Mapping[str, str]) -> Link:
    """The link that a `dmRef` makes, called by the module's title, or by the one that the reference gives."""
    to = module_code(reference.first("dmCode"))
    tech, info = reference.first("techName"), reference.first("infoName")
    title = " - ".join(e.words() for e in (tech, info) if e is not None and e.words())
    title = titles.get(to) or title
    return Link(to, f"{title}, {to}" if title else to, fragment=reference.get("referredFragment", "target"))


def hotspot_name(hotspot: Element) -> str:
    """The number that stands in the drawing."""
    return hotspot.get("applicationStructureName", "hotspotTitle", "title", "applicationStructureIdent")


def item_of(element: Element) -> str:
    """The item number of a parts line, as its drawing shows it: "005" is 5; with its variant."""
    item = element.get("item")
    return f"{item.lstrip('0') or item}{element.get('itemVariant')}"


def name_of(described: Element) -> str:
    """A tool, supply or spare: its name and part number, and how many are wanted."""
    name, number = described.first("name"), described.first("partNumber")
    count = described.first("reqQuantity")
    words = name.words() if name is not None else ""
    part = number.words() if number is not None else ""
    part = part or next(
        (e.get("partNumberValue", "toolNumber") for e in described.below("partRef", "toolRef")), ""
    )
    many = count.words() if count is not None else ""
    said = " ".join(filter(None, (words, part))) or described.words()
    return f"{said} ({many})" if many and many != "1" else said


def quantity_words(quantity: Element) -> str:
    """A marked-up value with its unit, "9 to 11 Nm" (chapter 3.9.5.2.1.13: quantity data)."""
    groups = quantity.children("quantityGroup")
    if not groups:
        return quantity.words()
    by_type: dict[str, tuple[str, str]] = {}
    for number, group in enumerate(groups):
        value = group.first("quantityValue")
        unit = (value.get("quantityUnitOfMeasure") if value else "") or group.get("quantityUnitOfMeasure")
        by_type[group.get("quantityGroupType") or str(number)] = (
            value.words() if value else group.words(),
            unit,
        )
    if {"minimum", "maximum"} <= set(by_type):
        (low, unit), (high, other) = by_type["minimum"], by_type["maximum"]
        return f"{low} to {high} {other or unit}"
    return ", ".join(f"{value} {unit}".strip() for value, unit in by_type.values())


def _titled(target: Element) -> str:
    title = target.child("title")
    return f"{target.name} {title.words() if title is not None else ''}".strip()
