"""S1000D illustrated parts data into parts rows and parts figures.

Structure after S1000D chapter 3.9.5.2.7 (illustrated parts data), from memory: `catalogSeqNumber` with its
figure and item numbers, in it one or more `itemSeqNumber` (issue 4.0 also `itemSequenceNumber`).
"""

from msgspec.structs import replace

from lastbolt.reading.cell_counts import read_quantity
from lastbolt.reading.fastener_signs import is_unknown
from lastbolt.reading.fasteners import read_kind
from lastbolt.reading.lexicon import Lexicon, lexicon
from lastbolt.reading.manual import BookSettings
from lastbolt.reading.parts_list import told_apart
from lastbolt.reading.xml_applies import applied, by_id
from lastbolt.reading.xml_drafts import cite
from lastbolt.reading.xml_s1000d_words import Words, deleted, hotspot_name, item_of
from lastbolt.words.machine import EVERY, Applies, Figure, PartsRow
from lastbolt.words.quantity import UNSAID, Quantity, exactly
from lastbolt.words.tree import Element

_ITEM = ("itemSeqNumber", "itemSequenceNumber")
_SYSTEM = ("systemCode", "subSystemCode", "subSubSystemCode", "assyCode")


def parts_of(
    content: Element, root: Element, settings: BookSettings, words: Words
) -> tuple[list[PartsRow], list[Figure]]:
    """The rows of a parts module in order, and its figures with their items."""
    reader = _Reader(root, settings, words)
    rows: list[PartsRow] = []
    for line in content.below("catalogSeqNumber"):
        if not deleted(line):
            rows += reader.rows(line)
    rows = _under_assemblies(told_apart(rows))
    return rows, reader.figures(content, rows)


class _Reader:
    def __init__(self, root: Element, settings: BookSettings, words: Words) -> None:
        self.settings = settings
        self.words = words
        self.language: Lexicon = lexicon(settings.language)
        self.applics = by_id(root)
        address = root.first("dmAddress") or root
        self.code = address.first("dmCode")
        tech = address.first("techName")
        self.title = tech.words() if tech is not None else ""

    def rows(self, line: Element) -> list[PartsRow]:
        """The rows of one catalogue sequence number: one, or one for each kind of engine."""
        items = [e for e in line.children(*_ITEM) if not deleted(e)]
        made = [self._row(line, item) for item in items]
        first = made[:1]
        for row in made[1:]:
            alike = next((i for i, one in enumerate(first) if one.applies == row.applies), None)
            if alike is None:
                told = f"{row.id}@{len(first) + 1}"
                first.append(replace(row, id=told))
            else:
                first[alike] = _interchangeable(first[alike], row)
        return first

    def figure_number(self, line: Element) -> str:
        """System, subsystem, assembly and figure, as the sequence number is written (chapter 3.9.5.2.7)."""
        codes = {
            name: line.get(name) or (self.code.get(name) if self.code is not None else "") for name in _SYSTEM
        }
        system = (
            f"{codes['systemCode']}-{codes['subSystemCode']}{codes['subSubSystemCode']}-{codes['assyCode']}"
        )
        return f"{system}-{line.get('figureNumber') or '01'}{line.get('figureNumberVariant')}"

    def figures(self, content: Element, rows: list[PartsRow]) -> list[Figure]:
        """A figure for each number that rows have; drawings and numbers go together in order."""
        drawn = list(content.below("figure"))
        found: list[Figure] = []
        for index, number in enumerate(dict.fromkeys(row.figure for row in rows)):
            mine = [(row.item, row.name) for row in rows if row.figure == number]
            title = drawn[index].child("title") if index < len(drawn) else None
            spots = [hotspot_name(h) for h in drawn[index].below("hotspot")] if index < len(drawn) else []
            known = {item for item, _ in mine}
            legend = [*mine, *((spot, "") for spot in spots if spot and spot.lstrip("0") not in known)]
            found.append(
                Figure(
                    f"{self.settings.source}/figure/{number}", number,
                    title.words() if title is not None else self.title, self.settings.source,
                    parts_figure=True, legend=tuple(dict.fromkeys(legend)),
                )
            )  # fmt: skip
        return found

    def _row(self, line: Element, item: Element) -> PartsRow:
        name = _words_of(item, "descrForPart", "partKeyword", "name")
        part = item.first("partRef")
        number = (part.get("partNumberValue") if part is not None else "") or _words_of(item, "partNumber")
        figure, printed = self.figure_number(line), item_of(line)
        remarks = _remarks(line, item)
        quantity, doubt = self._quantity(item)
        kind = read_kind(name, self.language)
        return PartsRow(
            id=f"{self.settings.source}/row/{figure}/{printed}",
            source=self.settings.source, figure=figure, item=printed, part_number=number, name=name,
            quantity=quantity, kind=kind, remarks=remarks,
            indent=max(0, int(indent) - 1) if (indent := line.get("indenture")).isdigit() else 0,
            applies=self._applies(line, item),
            renew=self.language.scan(remarks).has("renew") or self.language.scan(name).has("renew", "after"),
            citations=cite(self.settings.source, item, f"{printed} {name} {quantity.words}".strip()),
            doubt=doubt or ("" if name else "no name is printed"),
            unknown=kind is None and is_unknown(name, self.language),
        )  # fmt: skip

    def _quantity(self, item: Element) -> tuple[Quantity, str]:
        """The count; "AR" is as required, "REF" says that the part is counted elsewhere."""
        said = _words_of(item, "quantityPerNextHigherAssy", "reqQuantity")
        code = said.upper().strip(". ")
        if code == "AR":
            return Quantity("as required", words=said), ""
        if code in ("REF", "RF"):
            return Quantity(words=said), "the list counts it elsewhere (REF)"
        if code.isdigit():
            return exactly(int(code), said), ""
        quantity = read_quantity(said, self.language) if said else UNSAID
        return quantity, "" if quantity.kind != "unsaid" else "no quantity is printed"

    def _applies(self, line: Element, item: Element) -> Applies:
        for element in (item, line):
            applies, condition = applied(element, self.applics)
            if applies != EVERY:
                return applies
            if condition:
                return Applies(words=condition)
        codes = [e.words() for e in item.below("usableOnCodeEquip", "usableOnCodeAssy") if e.words()]
        # A code stands for engines that another list names: it is no name of a variant.
        return Applies(words=f"usable on code {', '.join(codes)}") if codes else EVERY


def _under_assemblies(rows: list[PartsRow]) -> list[PartsRow]:
    """Quantities are for one next higher assembly: where the list has several of it, the row says so."""
    above: list[PartsRow] = []
    told: list[PartsRow] = []
    for row in rows:
        above = [one for one in above if one.indent < row.indent and one.figure == row.figure]
        several = next((a for a in above if a.quantity.high is not None and a.quantity.high > 1), None)
        if several is not None and row.quantity.high is not None:
            quantity = replace(row.quantity, per="assembly")
            doubt = (
                row.doubt
                or f"the count is for one {several.name}, of which there are {several.quantity.high}"
            )
            row = replace(row, quantity=quantity, doubt=doubt)  # noqa: PLW2901 - the same row, told more of
        told.append(row)
        above.append(row)
    return told


def _interchangeable(row: PartsRow, other: PartsRow) -> PartsRow:
    """One row for parts of which either may be fitted."""
    remarks = "; ".join(filter(None, (row.remarks, f"or {other.part_number or other.name}")))
    alike = row.kind == other.kind and row.quantity == other.quantity
    doubt = row.doubt or ("" if alike else "an interchangeable part differs in size or quantity")
    return replace(row, remarks=remarks, doubt=doubt, citations=(*row.citations, *other.citations))


def _remarks(line: Element, item: Element) -> str:
    found = [
        e.words() for e in item.below("descrForLocation", "genericPartData", "reasonForSelection", "note")
    ]
    attaching = item.first("attachStoreShipPart")
    if attaching is not None and attaching.get("attachStoreShipPartCode") in ("1", ""):
        found.append("attaching part")
    if item.first("notIllustrated") is not None or line.first("notIllustrated") is not None:
        found.append("not illustrated")
    return "; ".join(filter(None, found))


def _words_of(element: Element, *names: str) -> str:
    for name in names:
        found = element.first(name)
        if found is not None and found.words():
            return found.words()
    return ""
