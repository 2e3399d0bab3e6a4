"""The labels of blocks: "Tools:", "Equipment condition", "On completion: ..."."""

from lastbolt.reading.lexicon import WORD, Lexicon


def block_label(text: str, lead: int, language: Lexicon) -> tuple[str, int] | None:
    """Which labelled block a line opens, and where its label ends."""
    head = text[:60]
    if lead == 0 and len(text) > 48 and ":" not in head and "\t" not in head and " –" not in head:
        return None
    word = WORD.search(head)
    if word is None or not language.opens(word.group().lower(), "blocks"):
        return None
    scan = language.scan(head)
    for hit in scan.of("blocks"):
        if hit.first != 0:
            return None
        behind = text[hit.end : hit.end + 2]
        only = not text[hit.end :].strip(" \t:")
        bold = lead > 0 and abs(lead - hit.end) <= 1
        if behind[:1] in (":", "\t") or only or bold or behind[:2] in (" :", " –"):
            return hit.key, hit.end
        return None
    return None
