"""Sections as they are gathered from the pieces, before their words are understood."""

import re

from lastbolt.reading.blocks import block_label
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.marks import Mark
from lastbolt.reading.numbers import LETTERED
from lastbolt.reading.piece import END, At, Piece
from lastbolt.reading.step_paths import StepPaths, below
from lastbolt.reading.step_runs import bids
from lastbolt.reading.titles import only_a_deed, opening_deed
from lastbolt.words.citation import Citation, PdfPlace, rounded

_LETTERED = re.compile(LETTERED)
_LEVELS = re.compile(r"\d+|[A-Z]")
_ASKING = ("before", "references", "needs")
"""Blocks of which a bullet that tells nothing to do is an entry, whatever stands above it."""
_INSIDE = re.compile(r"[/:·]")
"""Signs inside of a section's number that are none in an id."""
_SLUG = re.compile(r"[^a-z0-9]+")


class Item:
    """A step, a paragraph, a caution or a labelled block of a section."""

    __slots__ = ("children", "kind", "left", "mark", "name", "path", "pieces", "said", "text")

    def __init__(self, kind: str, piece: Piece, path: str = "") -> None:
        self.kind = kind
        self.path = path
        self.mark = piece.mark
        self.name = piece.name
        self.text = piece.text
        self.said = piece.said
        self.pieces = [piece]
        self.left = piece.left
        self.children: list[Item] = []

    def add(self, piece: Piece) -> None:
        """Take in a further paragraph."""
        self.text = f"{self.text} {piece.text}".strip()
        self.pieces.append(piece)


class SectionDraft:
    """A heading and what stands under it until the next."""

    def __init__(self, piece: Piece, title: str, number: str, level: int) -> None:
        self.number = number
        self.title = title
        self.level = level
        self.rank = piece.rank
        self.parent: SectionDraft | None = None
        self.children: list[SectionDraft] = []
        self.anchor = ""
        self.heading = piece
        self.again: list[Piece] = []
        """Where its heading stands again: on a further page, under a drawing."""
        self.items: list[Item] = []
        self.untaken: list[At] = []
        """Lines that tell what to do and became no step."""
        self.tables: list[Piece] = []
        self.figures: list[Piece] = []
        self.pages: set[int] = {piece.lines[0].pdf_page}

    @property
    def chapter(self) -> "SectionDraft":
        """The top section above."""
        top = self
        while top.parent is not None:
            top = top.parent
        return top


def slug(text: str, most: int = 48) -> str:
    """A title as part of an id."""
    return _SLUG.sub("-", text.lower()).strip("-")[:most].strip("-") or "untitled"


class Book:
    """All section drafts in order, and the pieces that stand in none."""

    def __init__(self, language: Lexicon) -> None:
        self.language = language
        self.sections: list[SectionDraft] = []
        self.before: list[Piece] = []
        self.contents: list[Piece] = []
        self.telling: list[SectionDraft] | None = None
        """The sections that became procedures, once that is known."""
        self.table_captions: dict[str, SectionDraft] = {}
        self._stack: list[SectionDraft] = []
        self._anchors: dict[str, int] = {}
        self._paths = StepPaths()
        self._block: Item | None = None

    @property
    def section(self) -> SectionDraft | None:
        """The section that is open."""
        return self._stack[-1] if self._stack else None

    def add(self, piece: Piece) -> None:
        """Take in the next piece."""
        if piece.kind == "contents":
            self.contents.append(piece)
        elif piece.kind == "heading":
            self._heading(piece)
        elif self.section is None:
            self.before.append(piece)
        else:
            for at in piece.lines:
                self.section.pages.add(at.pdf_page)
            self._into(self.section, piece)

    def _into(self, section: SectionDraft, piece: Piece) -> None:
        if piece.kind == "table":
            section.tables.append(piece)
        elif piece.kind == "figure":
            section.figures.append(piece)
        elif piece.kind == "label":
            self._block = Item("label", piece)
            section.items.append(self._block)
        elif piece.kind == "caution":
            section.items.append(Item("caution", piece))
        elif piece.kind == "step":
            self._step(section, piece)
        elif piece.name == END:
            section.again.append(piece)
        else:
            self._text(section, piece)

    def _heading(self, piece: Piece) -> None:
        title = self._without_continued(piece.text)
        for known in self.sections:
            if (
                known.number == piece.number
                and known.title.lower() == title.lower()
                and (piece.number or title != piece.text)
            ):
                paths = self._paths if known is self.section else StepPaths()
                self._open(known)
                self._paths = paths
                known.again.append(piece)
                return
        open_now = self.section
        if open_now is not None and not piece.number and title.lower() == open_now.title.lower():
            open_now.again.append(piece)  # the section's title again, as under a drawing of it
            return
        level = self._level(piece)
        draft = SectionDraft(piece, title, piece.number, level)
        self._place(draft, piece)
        number = _INSIDE.sub("-", piece.number)
        bare = slug(piece.number) if piece.number else slug(title)
        if not piece.number and draft.parent is not None:
            bare = f"{draft.parent.anchor}.{bare}"
        self._anchors[bare] = self._anchors.get(bare, 0) + 1
        again = f"~{self._anchors[bare]}" if self._anchors[bare] > 1 else ""
        draft.anchor = f"{number or bare}{again}"
        self.sections.append(draft)
        self._open(draft)

    def _open(self, draft: SectionDraft) -> None:
        chain: list[SectionDraft] = []
        node: SectionDraft | None = draft
        while node is not None:
            chain.append(node)
            node = node.parent
        self._stack = chain[::-1]
        self._paths, self._block = StepPaths(), None

    def _level(self, piece: Piece) -> int:
        if _LETTERED.fullmatch(piece.number):
            return len(_LEVELS.findall(piece.number))
        return len(re.split(r"[.\-/:·]", piece.number)) if piece.number else 0

    def _place(self, draft: SectionDraft, piece: Piece) -> None:
        stack = list(self._stack)
        if piece.number:
            while stack and not _stands_under(piece, stack[-1]):
                above = stack[-1]
                if above.number == "" and above.rank < piece.rank and draft.level > above.level:
                    break
                stack.pop()
        else:
            while stack and stack[-1].rank >= piece.rank:
                stack.pop()
        draft.parent = stack[-1] if stack else None
        if draft.parent is not None:
            draft.parent.children.append(draft)
        if not piece.number or draft.level == 0:
            draft.level = draft.parent.level + 1 if draft.parent is not None else 1

    def _without_continued(self, title: str) -> str:
        low = title.lower()
        for ending in self.language.words("titles", "continued"):
            if low.endswith(ending):
                return title[: -len(ending)].strip(" -–,")
        return title

    def _step(self, section: SectionDraft, piece: Piece) -> None:
        assert piece.mark is not None
        mark = piece.mark
        if self._block is not None and self._block_takes(piece, mark):
            self._block.children.append(Item("step", piece))
            return
        self._block = None
        if mark.kind in ("alpha", "num", "Alpha", "(num)") and only_a_deed(piece.text, self.language):
            self._sub_section(section, piece, mark)
            return
        opening = opening_deed(piece.text, self.language) if mark.kind in ("alpha", "Alpha") else None
        if opening is not None:
            rest = Piece("text", piece.lines[0], opening[1])
            rest.lines = piece.lines
            piece.text = opening[0]
            self._sub_section(section, piece, mark)
            self.sections[-1].items.append(Item("text", rest))
            return
        path = self._paths.of(Mark(mark.kind, below(mark.value, section.number)), piece.left)
        section.items.append(Item("step", piece, path))

    def _sub_section(self, section: SectionDraft, piece: Piece, mark: Mark) -> None:
        """ "a. Removal." under "3-10 Flywheel housing": a section of its own."""
        base = section
        while base.heading.kind == "step" and base.parent is not None:
            base = base.parent
        number = f"{base.number}{mark.value}" if base.number else ""
        draft = SectionDraft(piece, piece.text.strip(" .:"), number, base.level + 1)
        draft.rank = base.rank + 1
        draft.parent = base
        base.children.append(draft)
        bare = number or f"{base.anchor}.{slug(draft.title)}"
        self._anchors[bare] = self._anchors.get(bare, 0) + 1
        draft.anchor = bare if self._anchors[bare] == 1 else f"{bare}~{self._anchors[bare]}"
        self.sections.append(draft)
        self._open(draft)

    def _block_takes(self, piece: Piece, mark: Mark) -> bool:
        """Whether a marked line is an entry of the open labelled block and not yet a step."""
        block = self._block
        assert block is not None
        if mark.kind == "bullet" and block.name in _ASKING and not bids(piece.text, self.language):
            return True
        if block.text and block_label(block.text, 0, self.language) is None:
            return False
        if mark.kind == "bullet":
            return not block.children or block.children[0].mark == mark
        first = block.children[0].mark if block.children else None
        if first is None:
            begins = mark.value in ("1", "a", "A") and block.name in ("before", "after")
            return begins and not self._told_since(block)
        return first.kind == mark.kind and mark.value not in ("1", "a", "A")

    def _told_since(self, block: Item) -> bool:
        """Whether a whole paragraph stands between a block's label and what comes now: "Preparation", "Carry
        out 2.1.", then the section's own steps."""
        last = self.section.items[-1] if self.section is not None and self.section.items else block
        return last is not block and last.kind == "text" and last.text.rstrip().endswith(".")

    def _text(self, section: SectionDraft, piece: Piece) -> None:
        caption = re.match(r"([A-Za-z]+)\.?\s(\d{1,3}(?:[.\-–]\d{1,3})*[a-z]?)(?:[\s.:]|$)", piece.text)
        if caption is not None and self.language.among(caption[1].lower(), "pointing", "table"):
            self.table_captions.setdefault(caption[2].replace("–", "-"), section)
        section.items.append(Item("text", piece))


def _stands_under(piece: Piece, above: SectionDraft) -> bool:
    """Whether a numbered heading stands under another by their numbers; plain ones also by their type."""
    plain = piece.number.isdigit() and piece.rank <= above.rank
    return bool(above.number) and not plain and _under(piece.number, above.number)


def _under(number: str, above: str) -> bool:
    if _LETTERED.fullmatch(number) and number != above:
        levels = _LEVELS.findall(above)
        return _LEVELS.findall(number)[: len(levels)] == levels
    if number.isdigit() and above.isdigit():  # "21" stands under "2", "2110" under "21"
        return len(number) > len(above) and number.startswith(above)
    return (
        number != above and re.match(re.escape(above) + r"(?:[.\-/:·]|(?<=\d)[A-Za-z]$)", number) is not None
    )


class Cite:
    """Makes citations of pieces: one per page, with the box around their lines."""

    def __init__(self, source: str, printed: dict[int, str]) -> None:
        self.source = source
        self.printed = printed

    def of(self, *pieces: Piece, words: str = "") -> tuple[Citation, ...]:
        """The citations of what these pieces say; lines side by side on one page give one box each."""
        boxes: dict[tuple[int, int], list[float]] = {}
        for piece in pieces:
            for at in piece.lines:
                line = at.line
                box = boxes.get((at.pdf_page, line.column))
                if box is None:
                    boxes[at.pdf_page, line.column] = [line.left, line.top, line.right, line.bottom]
                else:
                    box[0], box[1] = min(box[0], line.left), min(box[1], line.top)
                    box[2], box[3] = max(box[2], line.right), max(box[3], line.bottom)
        said = words or " ".join(piece.text for piece in pieces)
        cited = []
        for (page, _), (left, top, right, bottom) in boxes.items():
            at_page = PdfPlace(page, self.printed.get(page), rounded((left, top, right, bottom), 4))
            cited.append(Citation(self.source, at_page, said))
        return tuple(cited)
