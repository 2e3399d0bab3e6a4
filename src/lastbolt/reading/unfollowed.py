"""The last net: whatever points somewhere in words that no rule looked at is told, with page and place."""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from lastbolt.reading.drafts import Cite
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.phrases import Phrases
from lastbolt.reading.pointers import Pointer, pointers_in
from lastbolt.reading.problems import Reporter, quoted
from lastbolt.reading.references import Directory, look_up
from lastbolt.reading.sentences import sentences
from lastbolt.reading.steps import RawReference, is_work
from lastbolt.reading.swallowed import Place, instructs
from lastbolt.reading.targets import Target
from lastbolt.words.citation import Citation

_SIGNS = re.compile(r"[\W_]+")
NOWHERE = Target("", "", "", (), "other", frozenset(), None, None, "", "", frozenset())
"""What words stand in before the first heading."""
_MOST = 240


@lru_cache(maxsize=4)
def _cues(language: Lexicon) -> Phrases:
    """The words that point."""
    keys = ("strong_cues", "section", "page", "figure", "table", "appendix")
    words = [word for key in keys for word in language.words("pointing", key)]
    return Phrases((*words, *language.words("left_over", "weak_cues"), *language.words("reverse")))


def _may_point(text: str, language: Lexicon) -> bool:
    """Whether a word points, or a sign or a bracket does: without one nothing is looked at twice."""
    signs = (*language.words("left_over", "signs"), "§", "¶", "(", "[")
    return any(sign in text for sign in signs) or _cues(language).search(text) is not None


class Heard:
    """What the rules for references dealt with: their sentences, by page."""

    def __init__(self) -> None:
        self._by_page: dict[int | None, list[str]] = {}

    def add(self, words: str, cited: Iterable[Citation]) -> None:
        """Take note of a sentence that was looked at."""
        said = _flat(words)
        for citation in cited:
            known = self._by_page.setdefault(getattr(citation.place, "pdf_page", None), [])
            if not known or known[-1] != said:
                known.append(said)

    def holds(self, words: str, pages: Iterable[int]) -> bool:
        """Whether words stand in a sentence that was looked at on one of the pages."""
        said = _flat(words)
        return any(said in one for page in pages for one in self._by_page.get(page, ()))


class Unfollowed:
    """Asked of one source: tells what points somewhere in words that no rule looked at."""

    def __init__(self, directory: Directory, reporter: Reporter, figures: Iterable[str]) -> None:
        self.directory = directory
        self.language = directory.language
        self.reporter = reporter
        self.figures = frozenset(figures)

    def tell(self, place: Place, own: Target, heard: Heard, cite: Cite) -> None:
        """Record one problem for each sentence of a piece that points and was not looked at."""
        piece = place.piece
        lines = [at.line.text.replace("\t", " ") for at in piece.lines]
        texts = lines if piece.kind == "table" else [" ".join(lines) if place.swallowed else piece.text]
        pages = {at.pdf_page for at in piece.lines}
        quick = piece.kind == "table" or not place.swallowed
        for sentence in self._sentences(texts, quick=quick):
            if heard.holds(sentence, pages):
                continue
            for pointer in pointers_in(self.language.scan(sentence), self.language):
                if heard.holds(sentence[pointer.start : pointer.end], pages):
                    continue
                if self._points(pointer, sentence, own):
                    what = f"{quoted(sentence, _MOST)} points elsewhere, and no rule read these words."
                    do = "Look at the page: where that leads is in no plan because of it."
                    self.reporter.add("LB-R17", what, do, cite.of(piece))
                    break

    def _sentences(self, texts: Iterable[str], *, quick: bool) -> Iterator[str]:
        """The sentences of texts; `quick`: of those only in which a word or a sign points."""
        for text in texts:
            if not quick or _may_point(text, self.language):
                yield from sentences(text, self.language)

    def _points(self, pointer: Pointer, sentence: str, own: Target) -> bool:
        """Whether a pointer really leads out of these words."""
        if pointer.form in ("own", "demand", "steps"):
            return False
        if pointer.form == "figure":
            return pointer.cue != "none" and not self.figures.issuperset(pointer.targets)
        if pointer.form == "table" and pointer.start == 0 and pointer.cue == "none":
            return False
        if pointer.form == "reverse":
            return True
        found = look_up(RawReference(pointer, sentence, ()), own, self.directory)
        if found is None or (pointer.form == "table" and found.status == "resolved"):
            return False
        if own.procedure is None:  # nothing that is to be done: only what leads to no place is told
            return found.status != "resolved" or is_work((own.deed,)) or instructs(sentence, self.language)
        return found.to != (own.procedure,)


def _flat(text: str) -> str:
    return _SIGNS.sub("", text.lower())
