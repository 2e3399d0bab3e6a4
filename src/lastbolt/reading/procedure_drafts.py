"""A procedure and its steps as they are gathered from a section, with raw references."""

from lastbolt.reading.drafts import Item, SectionDraft
from lastbolt.reading.piece import Piece
from lastbolt.reading.steps import RawReference, StepFacts
from lastbolt.words.citation import Citation
from lastbolt.words.machine import EVERY, Applies, Caution, Deed, Step


class StepDraft:
    """A step with its raw references."""

    def __init__(self, path: str, items: list[Item]) -> None:
        self.path = path
        self.items = items
        self.facts: StepFacts | None = None
        self.cautions: list[Caution] = []
        self.further: list[RawReference] = []
        self.occurrence = 1
        self.step: Step | None = None

    @property
    def pieces(self) -> list[Piece]:
        """The pieces its words stand in."""
        return [piece for item in self.items for piece in item.pieces]

    @property
    def words(self) -> str:
        """Its words."""
        return " ".join(item.text for item in self.items).strip()

    @property
    def said(self) -> str:
        """Its words with what the other columns of its row say, where it is a row of a table of steps."""
        return " ".join(item.said or item.text for item in self.items).strip()

    @property
    def beside(self) -> str:
        """What the other columns of its row say."""
        row = self.items[0]
        return row.said[len(row.text.removesuffix(".")) :].strip(" .") if row.said else ""


class ProcedureDraft:
    """A section that tells what to do."""

    def __init__(self, section: SectionDraft) -> None:
        self.section = section
        self.steps: list[StepDraft] = []
        self.before: list[tuple[RawReference, tuple[Citation, ...]]] = []
        self.after: list[tuple[RawReference, tuple[Citation, ...]]] = []
        self.seen: list[tuple[RawReference, tuple[Citation, ...]]] = []
        self.items = list(section.items)
        """What stands in it; with the blocks above it that it took over."""
        self.common: list[tuple[RawReference, tuple[Citation, ...]]] = []
        """What it asks before all work in the sections below it."""
        self.cautions: list[Caution] = []
        self.tools: list[str] = []
        self.materials: list[str] = []
        self.figures: list[str] = []
        self.applies: Applies = EVERY
        self.deed: Deed = "other"
        self.parts: tuple[str, ...] = ()
        self.title = section.title
        self.in_sentences = False
        """Whether the sentences of its paragraphs are its steps."""
        self.text = ""
        """What stands before the first step and tells nothing to do."""


def plain_text(draft: ProcedureDraft) -> str:
    """All words of a section that holds no procedure."""
    said = [item.text for item in draft.section.items if item.kind != "label"]
    labelled = [f"{item.pieces[0].number}: {one.text}" for item in draft.section.items if item.kind == "label"
                for one in (item, *item.children) if one.text]  # fmt: skip
    return " ".join((*said, *labelled))
