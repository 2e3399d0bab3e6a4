"""The net under the rules for torques: sections called so whose sentences tell torques that nothing took."""

from collections.abc import Iterable, Iterator, Sequence

from lastbolt.reading.drafts import Cite, Item, SectionDraft
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.sentences import sentences
from lastbolt.reading.torques import torques_in
from lastbolt.words.citation import Box, PdfPlace
from lastbolt.words.machine import TorqueRow
from lastbolt.words.problem import Problem
from lastbolt.words.where import where

_MOST = 240


def torques_in_words(
    sections: Iterable[SectionDraft], rows: Sequence[TorqueRow], cite: Cite, title: str, language: Lexicon
) -> Iterator[Problem]:
    """A problem for each sentence that tells a torque in a section such as "Tightening torques"."""
    taken: dict[int, list[Box]] = {}
    for row in rows:
        for cited in row.citations:
            if isinstance(cited.place, PdfPlace) and cited.place.box is not None:
                taken.setdefault(cited.place.pdf_page, []).append(cited.place.box)
    for section in sections:
        if not any(word in section.title.lower() for word in language.words("titles", "torque_table")):
            continue
        for item in section.items:
            if item.kind != "text" or _is_taken(item, taken):
                continue
            for sentence in sentences(item.text, language):
                if torques_in(sentence, language):
                    cited = cite.of(item.pieces[0])[0]
                    said = sentence if len(sentence) <= _MOST else f"{sentence[:_MOST]} ..."
                    what = f'Torques that stand in a sentence were not read: "{said.strip()}"'
                    do = "Read them from the page yourself; none of them is beside a step or a fastener."
                    yield Problem("LB-P06", what, where(cited, title), do, citations=(cited,))


def _is_taken(item: Item, taken: dict[int, list[Box]]) -> bool:
    """Whether lines of a paragraph became rows of a list of torques."""
    return any(
        at.line.top - 0.001 <= (box[1] + box[3]) / 2 <= at.line.bottom + 0.001
        for piece in item.pieces
        for at in piece.lines
        for box in taken.get(at.pdf_page, ())
    )
