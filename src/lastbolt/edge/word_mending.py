"""Mending of a page's words: letters printed twice, spaces that are only kerning, spaced-out headings."""

from itertools import pairwise

from lastbolt.words.page import Word

_SAME_PLACE = 0.12
"""Two prints of a word nearer than this part of its height are one word printed twice."""
_NO_SPACE = 0.09
"""A gap below this part of the height is kerning, not a space."""
_BARS = ("/", "\u2044")
_SPACED_AT_LEAST = 4


def collapse_doubled(words: list[Word]) -> list[Word]:
    """The words without second prints of the same word in the same place (a way to fake bold), now bold."""
    seen: dict[str, list[int]] = {}
    kept: list[Word] = []
    for word in words:
        earlier = seen.setdefault(word.text, [])
        twin = _same_place(word, earlier, kept) if earlier else None
        if twin is None:
            earlier.append(len(kept))
            kept.append(word)
        else:
            kept[twin] = _bold(kept[twin])
    return kept


def _same_place(word: Word, earlier: list[int], kept: list[Word]) -> int | None:
    """Which of the earlier prints of a word stands in its place."""
    top, left, right = word.top, word.left, word.right
    for index in earlier:
        one = kept[index]
        slack = _SAME_PLACE * (one.bottom - one.top)
        if abs(one.top - top) < slack and abs(one.left - left) < slack and abs(one.right - right) < 2 * slack:
            return index
    return None


def _bold(word: Word) -> Word:
    return Word(word.text, word.left, word.top, word.right, word.bottom, word.size_pt, True, word.italic)


def mend_spaces(words: list[Word], width_pt: float) -> list[Word]:
    """The words with kerning gaps closed and spaced-out lettering ("E N G I N E") drawn together."""
    joined: list[Word] = []
    for word in words:
        if joined and _is_kerning(joined[-1], word, width_pt):
            joined[-1] = _union(joined[-1], word)
        else:
            joined.append(word)
    return _close_lettering(_with_fractions(joined, width_pt), width_pt)


def _with_fractions(words: list[Word], width_pt: float) -> list[Word]:
    """The words with built fractions (raised numerator, bar, lowered denominator) as one word each."""
    if not any(word.text in _BARS for word in words):
        return words
    joined: list[Word] = []
    for word in words:
        if len(joined) >= 2 and word.text.isdigit() and joined[-1].text in _BARS:
            numerator, bar = joined[-2], joined[-1]
            near = 0.35 * bar.size_pt / width_pt
            touching = bar.left - numerator.right < near and word.left - bar.right < near
            stacked = numerator.bottom < word.bottom and numerator.top < word.top
            if numerator.text.isdigit() and touching and stacked:
                del joined[-2:]
                word = _union(_union(numerator, bar), word)  # noqa: PLW2901
        joined.append(word)
    return joined


def _is_kerning(last: Word, word: Word, width_pt: float) -> bool:
    if word.size_pt != last.size_pt or word.bold is not last.bold or abs(word.top - last.top) > 1e-4:
        return False
    gap_pt = (word.left - last.right) * width_pt
    return -0.05 * word.size_pt < gap_pt < _NO_SPACE * word.size_pt


def _union(a: Word, b: Word) -> Word:
    return Word(
        a.text + b.text,
        min(a.left, b.left),
        min(a.top, b.top),
        max(a.right, b.right),
        max(a.bottom, b.bottom),
        a.size_pt,
        a.bold,
        a.italic,
    )


def _close_lettering(words: list[Word], width_pt: float) -> list[Word]:
    kept: list[Word] = []
    run: list[Word] = []
    for word in words:
        if len(word.text) == 1 and word.text.isalpha():
            if run and not _beside(run[-1], word, width_pt):
                kept += _lettering(run)
                run = []
            run.append(word)
            continue
        kept += _lettering(run)
        run = []
        kept.append(word)
    return kept + _lettering(run)


def _beside(last: Word, word: Word, width_pt: float) -> bool:
    gap_pt = (word.left - last.right) * width_pt
    return (
        abs(word.top - last.top) < 1e-4
        and word.size_pt == last.size_pt
        and 0.0 <= gap_pt < 1.6 * word.size_pt
    )


def _lettering(run: list[Word]) -> list[Word]:
    """One word per group of evenly spaced single letters; shorter runs stay as they are."""
    if len(run) < _SPACED_AT_LEAST:
        return run
    gaps = sorted(b.left - a.right for a, b in pairwise(run))
    usual = gaps[len(gaps) // 3]
    groups = [[run[0]]]
    for last, word in pairwise(run):
        if word.left - last.right > 1.9 * usual:
            groups.append([word])
        else:
            groups[-1].append(word)
    if max(len(group) for group in groups) < 3:
        return run
    closed = []
    for group in groups:
        word = group[0]
        for letter in group[1:]:
            word = _union(word, letter)
        closed.append(word)
    return closed
