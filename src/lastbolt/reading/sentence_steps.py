"""Steps that are sentences of running paragraphs: a paragraph cut into one item for each thing to do."""

from lastbolt.reading.drafts import Item
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.piece import At, Piece, joined
from lastbolt.reading.pointers import pointers_in
from lastbolt.reading.sentences import sentences
from lastbolt.reading.verbs import orders, verbs_in


def by_sentences(item: Item, language: Lexicon) -> list[Item]:
    """The sentences of a paragraph as items of their own; what tells nothing stays with the one before."""
    piece = item.pieces[0]
    said = sentences(item.text, language)
    if len(said) < 2 or len(item.pieces) > 1:
        return [item]
    groups: list[str] = []
    for sentence in said:
        if groups and not _tells(sentence, language):
            groups[-1] = f"{groups[-1]} {sentence}"
        else:
            groups.append(sentence)
    if len(groups) < 2:
        return [item]
    return [Item(item.kind, part) for part in _parts(piece, groups)]


def _tells(sentence: str, language: Lexicon) -> bool:
    """Whether a sentence says to do something, or points somewhere."""
    scan = language.scan(sentence)
    return bool(verbs_in(scan, language)) or orders(scan, language) or bool(pointers_in(scan, language))


def _parts(piece: Piece, groups: list[str]) -> list[Piece]:
    """One piece for each group of sentences, with the lines it stands on."""
    ends: list[tuple[At, int]] = []
    text = ""
    for at in piece.lines:
        text = joined(text, at.line.text)
        ends.append((at, len(text)))
    ahead = max(0, text.find(piece.text[:20]))
    parts: list[Piece] = []
    start = ahead
    for group in groups:
        end = start + len(group)
        on = [at for at, last, first in _spans(ends) if first < end and last > start] or [piece.lines[-1]]
        part = Piece("text", on[0], group)
        part.lines = on
        part.left, part.boxed = piece.left, piece.boxed
        parts.append(part)
        start = end + 1
    return parts


def _spans(ends: list[tuple[At, int]]) -> list[tuple[At, int, int]]:
    """Each line with where its words end and begin in the text."""
    starts = [0, *(end for _, end in ends)]
    return [(at, end, first) for (at, end), first in zip(ends, starts, strict=False)]
