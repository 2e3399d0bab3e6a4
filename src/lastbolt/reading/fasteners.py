"""Fastener kinds as sources print them: "screw M6 x 45", "pin 6 x 20"."""

from msgspec.structs import replace

from lastbolt.reading.fastener_signs import sorts_signed
from lastbolt.reading.lexicon import Hit, Lexicon, Scan, lexicon
from lastbolt.reading.sizes import COARSE_PITCH_MM, THREADS_PER_INCH, Size, sizes_in
from lastbolt.words.quantity import Kind

__all__ = [
    "COARSE_PITCH_MM", "THREADS_PER_INCH", "Size", "fastener_nouns", "head_in", "kind_of", "read_kind",
    "sizes_in",
]  # fmt: skip


def kind_of(what: str | None, size: Size | None, head: str | None = None) -> Kind:
    """The kind that a fastener noun and a size make together.

    A plain "6 x 45" is a metric thread with a bolt, screw, stud or nut, and a diameter with anything else.
    """
    if size is None:
        return Kind(what, head=head)
    thread, length = size.thread, size.length_mm
    if size.plain and what in ("bolt", "screw", "stud", "nut"):
        thread = f"M{thread}"
    if what in ("nut", "clip"):
        length = None
    return Kind(what, thread, length, head, size.strength)


def fastener_nouns(scan: Scan) -> list[Hit]:
    """The fastener words of a text that do mean a fastener ("bolt", not "bolt hole" or "crank pin")."""
    nouns = scan.of("fasteners")
    if not nouns:
        return []
    others = scan.of("not_fasteners")
    kept: list[Hit] = []
    for noun in nouns:
        if any(
            o.first < noun.last and noun.first < o.last and o.last - o.first > noun.last - noun.first
            for o in others
        ):
            continue
        if kept and noun.first < kept[-1].last:
            if noun.last <= kept[-1].last:
                continue
            kept[-1] = replace(noun, start=kept[-1].start, first=kept[-1].first)
            continue
        kept.append(noun)
    return kept


def names_fastener(text: str) -> bool:
    """Whether a text has the word for a fastener."""
    return bool(fastener_nouns(lexicon().scan(text)))


def head_in(scan: Scan, start: int, end: int) -> str | None:
    """The head form named between two characters: "hex", "socket", "countersunk" ..."""
    heads = [hit for hit in scan.of("heads") if start <= hit.start < end]
    if not heads:
        return None
    return max(heads, key=lambda hit: hit.last - hit.first).key


def read_kind(name: str, language: Lexicon | None = None) -> Kind | None:
    """The kind of fastener that a parts-list name describes, or None when it is no fastener.

    A name that only shows signs of one (a thread, "SHCS", "SCFEW") has its size and, if told, its sort.
    """
    lex = language or lexicon()
    scan = lex.scan(name)
    sizes = sizes_in(name)
    noun = _naming_noun(scan, name, lex, sized=bool(sizes))
    if noun is not None:
        size = next((s for s in sizes if s.start > noun.start or s.end <= noun.start), None)
        return _kind(_bolt_behind(noun, scan) or noun.key, size, scan, lex)
    sorts = sorts_signed(scan, name, sizes, lex)
    if sorts is None:
        front, comma, back = name.partition(",")
        return read_kind(f"{back.strip()} {front.strip()}", lex) if comma and "," not in back else None
    size = next((s for s in sizes if not s.plain or sorts[0] is not None), None)
    return _kind(sorts[0], size, scan, lex)


def _bolt_behind(noun: Hit, scan: Scan) -> str | None:
    """A "dowel bolt" is a bolt: the sort of the noun right behind a dowel's."""
    if noun.key != "dowel":
        return None
    return next((n.key for n in scan.of("fasteners") if n.first == noun.last and n.key != "dowel"), None)


def _kind(what: str | None, size: Size | None, scan: Scan, language: Lexicon) -> Kind:
    """The kind with its head; a screw for wood or sheet metal has a diameter and no metric thread."""
    head = head_in(scan, 0, len(scan.text))
    if size is not None and what in ("bolt", "screw", "stud") and size.plain:
        low = scan.text.lower()
        if any(word in low for word in language.words("sizes", "plain_diameter")):
            return Kind(what, size.thread, size.length_mm, head, size.strength)
    return kind_of(what, size, head)


def _naming_noun(scan: Scan, name: str, language: Lexicon, *, sized: bool) -> Hit | None:
    """The fastener word that names the part: it stands first, or last before "for", "with", a comma."""
    nouns = fastener_nouns(scan)
    if not nouns:
        return None
    segment_end = min(
        (i for i in (name.find(","), name.find(";"), name.find("(")) if i > 0), default=len(name)
    )
    if nouns[0].first == 0 or not any(t.low.isalpha() for t in scan.tokens[: nouns[0].first]):
        first = nouns[0]
        rest = [
            t
            for t in scan.tokens[first.last :]
            if t.end <= segment_end and t.low.isalpha() and len(t.low) > 2
        ]
        if (
            not rest
            or name.replace("x", "").isupper()
            or segment_end == first.end
            or _all_describe(scan, first.last, segment_end, language)
        ):
            return first
        return first if sized and not any(c.islower() for c in name[first.end : segment_end]) else None
    stops = [t.start for t in scan.tokens[1:] if language.among(t.low, "stop")]
    cut = min([*stops, segment_end])
    before = [noun for noun in nouns if noun.start < cut]
    if not before:
        return None
    last = before[-1]
    return last if _all_describe(scan, last.last, cut, language) else None


def _all_describe(scan: Scan, first: int, end: int, language: Lexicon) -> bool:
    """Whether the words from a token to a character only describe (head, position, size)."""
    covered = {
        i
        for table in ("heads", "adjectives")
        for hit in scan.of(table)
        if hit.key != "parts"
        for i in range(hit.first, hit.last)
    }
    for index in range(first, len(scan.tokens)):
        token = scan.tokens[index]
        if token.start >= end:
            break
        described = index in covered or language.among(token.low, "stop")
        if token.low.isalpha() and len(token.low) > 2 and not described:
            return False
    return True
