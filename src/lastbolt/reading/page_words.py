"""The word by which a book calls its pages ("Folio 12"), learned from what stands before their numbers."""

import re
from collections import Counter
from collections.abc import Sequence

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.running import PageText, Running

_CALLED = re.compile(r"(?P<word>[^\W\d_]{2,10}\.?)\s(?P<number>[\w–./:·-]{1,8})")
_SHARE = 0.5
_FEWEST = 3


def words_of_pages(pages: Sequence[PageText], running: Running, language: Lexicon) -> tuple[str, ...]:
    """Words that stand alone before the printed number on most pages, and that no list has for a page."""
    count: Counter[str] = Counter()
    for page in pages:
        printed = running.printed.get(page.pdf_page)
        for index in running.lines.get(page.pdf_page, ()):
            for part in page.lines[index].text.split("\t"):
                match = _CALLED.fullmatch(part.strip())
                if match is not None and match["number"] == printed:
                    count[match["word"].lower()] += 1
    least = max(_FEWEST, _SHARE * len(pages))
    keys = ("page", "section", "paragraph", "step", "figure", "table", "appendix")
    known = {word for key in keys for word in language.words("pointing", key)}
    known.update(language.words("titles", "chapter"))
    return tuple(w for w, n in count.items() if n >= least and not {w, w.rstrip(".")} & known)
