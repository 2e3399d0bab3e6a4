"""Raw pointers looked up in the whole set of sources: resolved, doubtful, ambiguous, dangling, self ..."""

import re

from lastbolt.reading.counted import Paragraphs
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.numbers import clause_of, joints_of, last_digits
from lastbolt.reading.pointed_numbers import each_of
from lastbolt.reading.pointers import Pointer
from lastbolt.reading.steps import RawReference, is_work
from lastbolt.reading.targets import Found, Target, bare_number, page_key, together
from lastbolt.reading.titled import titled_in
from lastbolt.reading.titles import title_key
from lastbolt.reading.verbs import verbs_in

_OPPOSITE: dict[str, str] = {
    "remove": "install",
    "install": "remove",
    "separate": "join",
    "join": "separate",
    "drain": "fill",
    "fill": "drain",
    "loosen": "tighten",
    "tighten": "loosen",
}
_LETTER = re.compile(r"(?<![\d.\-])[^\W\d_]{3,}|[§¶]|[^\W\d_]\.")
_BROKEN = re.compile(r"(?<=[A-Z])-(?=[A-Z])")
"""A hyphen in a title in capitals, which the end of a line may have put there: "RE-MOVAL"."""
_LABEL = re.compile(r"(?:[^\W\d_]{1,12}\.?\s|[§¶№#]\s?)?([A-Z]{0,3}\d[\w./:·-]{0,12})")
_ENOUGH = 0.74
_STEM = 5
"""So many letters tell the word of a deed: "removal" and "removing"."""
_LONGEST_RUN = 40


class Directory:
    """All sections of all sources, found by number, page and title."""

    def __init__(
        self, targets: list[Target], table_homes: dict[tuple[str, str], str], language: Lexicon
    ) -> None:
        self.language = language
        self.targets = {target.id: target for target in targets}
        self.table_homes = table_homes
        self._by_number: dict[str, list[Target]] = {}
        self._by_page: dict[str, list[Target]] = {}
        self._by_key: dict[tuple[str, ...], list[Target]] = {}
        self._children: dict[str, list[Target]] = {}
        self._by_word: dict[str, list[Target]] = {}
        self.paragraphs = Paragraphs(targets, language)
        for target in targets:
            if target.number:
                self._by_number.setdefault(bare_number(target.number), []).append(target)
            for page in target.printed:
                self._by_page.setdefault(page_key(page), []).append(target)
            self._by_key.setdefault(target.key, []).append(target)
            if target.parent is not None:
                self._children.setdefault(target.parent, []).append(target)
            for word in set(target.key):
                self._by_word.setdefault(word, []).append(target)

    def by_number(self, number: str, raw: RawReference, source: str) -> Found:
        """The procedure (or section) of that number; a number that lost its joint is found with doubt."""
        hits = self._own_first(self._by_number.get(bare_number(number), []), source)
        if hits:
            return self._among(hits, raw)
        spelled = self._own_first(self._spelled(number), source)
        if len(spelled) == 1:
            step = bare_number(number).rpartition("-")[2]
            return Found((_goal(spelled[0]),), "resolved", steps=(step, step))
        mended = [t for n in joints_of(number) for t in self._by_number.get(n, [])]
        if len(mended) == 1:
            found = self._among(mended, raw)
            return Found(found.to, "doubtful" if found.status == "resolved" else found.status)
        return Found((), "dangling")

    def by_label(self, label: str, raw: RawReference, source: str) -> Found | None:
        """Where a number of a shape that no rule has leads, if the book has a section so numbered: "A1"."""
        match = _LABEL.fullmatch(label.strip(" .,;:()[]"))
        if match is None or not self._by_number.get(bare_number(match[1])):
            return None
        return self.by_number(match[1], raw, source)

    def _spelled(self, number: str) -> list[Target]:
        """The sections of which a step's mark is printed as such a number."""
        above, _, step = bare_number(number).rpartition("-")
        return [target for target in self._by_number.get(above, []) if step in target.spelled]

    def by_page(self, page: str, raw: RawReference, source: str, own: Target | None = None) -> Found:
        """What begins on that printed page, else what is still going on there; doubtful where the page is
        one of `own`, the section that points, and the words name no other."""
        there = self._own_first(self._by_page.get(page_key(page), []), source)
        working = [t for t in there if t.procedure is not None]
        starting = [t for t in working if page_key(t.first_printed) == page_key(page)]
        named = self._so_named(there, raw)
        done = [t for t in named if t.deed in raw.deeds]
        choices = ([t for t in done if t in starting], done, [t for t in named if t in starting])
        titled = titled_in(there, raw.words, self._children)
        hits = next((found for found in (titled, *choices, starting, working, there) if found), [])
        if not hits:
            return Found((), "dangling")
        if len(hits) == 1:
            elsewhere = self.by_words(raw).to
            sure = not elsewhere or _goal(hits[0]) in elsewhere
            undone = _OPPOSITE.get(hits[0].deed) in raw.deeds and hits[0].deed not in raw.deeds
            here = own in there and hits[0] is not own and hits[0] not in named
            return Found((_goal(hits[0]),), "resolved" if sure and not (undone or here) else "doubtful")
        best = self._best(hits, raw)
        if best is not None:
            return Found((_goal(best),), "resolved")
        return Found(tuple(_goal(t) for t in hits), "ambiguous", True)

    def _so_named(self, hits: list[Target], raw: RawReference) -> list[Target]:
        """Those whose part the sentence names."""
        words = set(title_key(raw.words, self.language))
        return [t for t in hits if t.parts and t.parts <= words]

    def by_title(self, title: str, raw: RawReference, source: str, *, loud: bool) -> Found:
        """The procedure of that name, word order and endings aside; a near match only with doubt."""
        key = title_key(title, self.language)
        exact = self._own_first(self._by_key.get(key, []), source)
        exact = [t for t in exact if t.title.lower() == title.strip().lower()] or exact
        if len(exact) == 1:
            return self._among(exact, raw)
        if len(exact) > 1:
            return Found(tuple(_goal(t) for t in exact), "ambiguous", True)
        scored = self._scored(key)
        same = [t for score, t in scored if score >= 0.999]
        near = [t for score, t in scored if score >= _ENOUGH]
        if len(same) == 1:
            return Found((_goal(same[0]),), "resolved")
        if len(near) == 1:
            return Found((_goal(near[0]),), "doubtful")
        if len(near) > 1:
            return Found(tuple(_goal(t) for t in near), "ambiguous", True)
        for other in (_BROKEN.sub("", title), title.partition(", ")[2]):
            if other and other != title:
                found = self.by_title(other, raw, source, loud=loud)
                if found.status == "resolved":
                    return found
        return Found((), "dangling")

    def by_words(self, raw: RawReference) -> Found:
        """A demand in words: the one procedure whose deed and part it names."""
        key = set(title_key(raw.words, self.language))
        words = {w for w in key if not w.startswith("=")}
        deeds = set(raw.deeds) - {"other"}
        hits = [
            t for t in self.targets.values()
            if t.procedure is not None and t.parts and t.deed in deeds and t.parts <= words
        ]  # fmt: skip
        longest = max((len(t.parts) for t in hits), default=0)
        hits = [t for t in hits if len(t.parts) == longest]
        if len(hits) == 1:
            scan = self.language.scan(raw.words)
            verbs = {token.low for h in scan.of("deeds") for token in scan.tokens[h.first : h.last]}
            idle = {token.low for h in scan.of("requirements") for token in scan.tokens[h.first : h.last]}
            only = words - verbs - idle <= hits[0].parts and raw.pointer.form == "demand"
            return Found((_goal(hits[0]),), "resolved" if only else "doubtful")
        return Found((), "in words")

    def reverse_of(self, own: Target, raw: RawReference) -> Found:
        """The procedure that is to be done backwards: named, or the one with the same parts and the opposite
        deed, or the section's own steps."""
        if raw.pointer.targets:
            return self.by_number(raw.pointer.targets[0], raw, own.source)
        wanted = _OPPOSITE.get(own.deed)
        if wanted is None or own.deed in ("remove", "separate", "drain", "loosen"):
            return Found((own.procedure or own.id,), "resolved")
        family = {wanted, "remove"} if own.deed == "install" else {wanted}
        hits = [
            t
            for t in self.targets.values()
            if t.procedure and t.source == own.source and t.deed in family and t.parts & own.parts
        ]
        near = [t for t in hits if t.parts == own.parts] or [t for t in hits if t.parent == own.parent]
        beside = [t for t in near if t.parent == own.parent] or near
        if not beside:
            beside = [t for t in self._children.get(own.parent or "", []) if t.procedure and t.deed in family]
        beside = self._so_called(beside, raw.words) or self._of_a_kind(beside, own)
        if len(beside) == 1:
            return Found((_goal(beside[0]),), "resolved")
        if beside:
            return Found(tuple(_goal(t) for t in beside), "ambiguous", True)
        return Found((), "dangling")

    def _so_called(self, targets: list[Target], words: str) -> list[Target]:
        """Those that bear the very word of the sentence: "the reverse of removal", not of disassembly."""
        low = words.lower()
        stems = {low[hit.start : hit.start + _STEM] for hit in self.language.scan(words).of("deeds")}
        return [t for t in targets if any(word.startswith(tuple(stems)) for word in t.title.lower().split())]

    def _of_a_kind(self, targets: list[Target], own: Target) -> list[Target]:
        """Those that take apart, where the own section puts together; else those that take off."""
        together = self._has_stem(own, "together")
        return [t for t in targets if self._has_stem(t, "apart") == together] or targets

    def _has_stem(self, target: Target, key: str) -> bool:
        """Whether its title tells such a deed; "To refit crank assembly" tells no assembling."""
        words = target.title.lower().split()
        title = " ".join(word for word in words if word.strip(",.:") not in target.parts)
        return any(stem in title for stem in self.language.words("deed_titles", key))

    def _says(self, words: str, key: str) -> bool:
        """Whether a deed of a sentence is one of these; the name of a part is no deed."""
        scan = self.language.scan(words)
        deeds = [v.start for v in verbs_in(scan, self.language)]
        deeds += [hit.start for hit in scan.of("deeds") if hit.form != "base"]
        stems = self.language.words("deed_titles", key)
        return any(words[start:].lower().startswith(stem) for start in deeds for stem in stems)

    def holds_work(self, to: str) -> bool:
        """Whether it is a procedure, a section with procedures in it, or one whose title says work."""
        own = self.targets.get(to)
        titled = own is not None and is_work((own.deed,))
        return "/procedure/" in to or titled or any(target.procedure for target in self._below(to))

    def knows_number(self, number: str) -> bool:
        """Whether any section has this number, or any step."""
        return bare_number(number) in self._by_number or bool(self._spelled(number))

    def knows_page(self, page: str) -> bool:
        """Whether any section stands on the page so printed."""
        return page_key(page) in self._by_page

    def between(self, first: str, last: str) -> tuple[str, ...]:
        """The numbers of a run ("chapters 3 to 7"): its ends, and between them those that sections have."""
        head, low = last_digits(first)
        other, high = last_digits(last)
        if head != other:
            return self._printed_between(first, last)
        if low is None or high is None or not low < high <= low + _LONGEST_RUN:
            return first, last
        width = len(first) - len(head)
        inner = (f"{head}{number:0{width}d}" for number in range(low + 1, high))
        return first, *(number for number in inner if self.knows_number(number)), last

    def _printed_between(self, first: str, last: str) -> tuple[str, ...]:
        """The numbers of a run over several chapters ("3.4 to 4.2"), in the order of the book."""
        ends = [self._by_number.get(bare_number(number), []) for number in (first, last)]
        if any(len(hits) != 1 for hits in ends):
            return first, last
        low, high = ends[0][0], ends[1][0]
        ids = list(self.targets)
        span = ids[ids.index(low.id) : ids.index(high.id) + 1]
        depth = bare_number(first).count("-")
        inner = [self.targets[one].number for one in span]
        found = [number for number in inner if number and bare_number(number).count("-") == depth]
        return tuple(found) if found and len(found) <= _LONGEST_RUN else (first, last)

    def _own_first(self, hits: list[Target], source: str) -> list[Target]:
        own = [t for t in hits if t.source == source]
        return own or hits

    def _among(self, hits: list[Target], raw: RawReference) -> Found:
        """One section: its procedure, or the one of its own sections that the words mean."""
        if len(hits) > 1:
            best = self._best(hits, raw)
            if best is None:
                return Found(tuple(_goal(t) for t in hits), "ambiguous", True)
            hits = [best]
        target = hits[0]
        if target.procedure is not None:
            return Found((target.procedure,), "resolved")
        below = [t for t in self._below(target.id) if t.procedure is not None]
        if len(below) == 1:
            return Found((_goal(below[0]),), "resolved")
        if below and (is_work(raw.deeds) or raw.pointer.cue == "perform"):
            best = self._best(below, raw)
            if best is not None:
                return Found((_goal(best),), "resolved")
            if raw.pointer.cue == "perform":
                return Found((target.id,), "resolved")  # all of it: planning asks when it cannot be
            return Found(tuple(_goal(t) for t in below), "ambiguous", True)
        return Found((target.id,), "resolved")

    def _below(self, section: str) -> list[Target]:
        found: list[Target] = []
        waiting = list(self._children.get(section, []))
        while waiting:
            target = waiting.pop(0)
            found.append(target)
            waiting += self._children.get(target.id, [])
        return found

    def _best(self, hits: list[Target], raw: RawReference) -> Target | None:
        """The one whose deed and part the sentence names."""
        words = set(title_key(raw.words, self.language))
        scored = [
            (
                2 * (t.deed in raw.deeds)
                + (2 if t.parts and t.parts <= words else 1 if t.parts & words else 0),
                t,
            )
            for t in hits
        ]
        most = max(score for score, _ in scored)
        best = [t for score, t in scored if score == most]
        if len(best) > 1:  # to take a part off is not to take it apart, to fit it not to build it
            for key in ("apart", "together"):
                meant = self._says(raw.words, key)
                best = [t for t in best if self._has_stem(t, key) == meant] or best
        return best[0] if len(best) == 1 and most > 0 else None

    def _scored(self, key: tuple[str, ...]) -> list[tuple[float, Target]]:
        wanted = set(key)
        seen: dict[str, Target] = {t.id: t for word in wanted for t in self._by_word.get(word, [])}
        return [(len(wanted & set(t.key)) / max(1, len(wanted | set(t.key))), t) for t in seen.values()]


def _goal(target: Target) -> str:
    return target.procedure or target.id


def in_words(raw: RawReference) -> RawReference:
    """An entry of a set-up block whose words turned out to point nowhere, as a demand in these words."""
    whole = Pointer(0, len(raw.words), "demand", (raw.words,), "perform")
    return raw._replace(pointer=whole, entry=False)


def look_up(raw: RawReference, own: Target, directory: Directory) -> Found | None:
    """Where a raw reference leads; None when the words turn out not to be a reference."""
    pointer = raw.pointer
    if pointer.form == "reverse":
        return directory.reverse_of(own, raw)
    if pointer.form == "demand":
        found = directory.by_words(raw)
        return None if pointer.weak and (not found.to or own.procedure in found.to) else found
    if pointer.form == "book":
        held = pointer.cue == "perform" and directory.by_title(
            pointer.targets[0], raw, own.source, loud=False
        )
        return held if held and held.status == "resolved" else Found((), "other book")
    if pointer.form == "own":
        return None
    if pointer.form == "elsewhere":
        return Found((), "doubtful")
    if pointer.form == "steps":
        return Found((own.procedure or own.id,), "resolved")
    if pointer.form == "table":
        homes = tuple(
            h for n in pointer.targets if (h := directory.table_homes.get((own.source, n))) is not None
        )
        return Found(homes, "resolved") if len(homes) == len(pointer.targets) else Found(homes, "dangling")
    if pointer.form == "title":
        label = directory.by_label(pointer.targets[0], raw, own.source)
        if label is not None:
            return label
        loud = pointer.targets[0].isupper() or pointer.cue == "bracket"
        found = directory.by_title(pointer.targets[0], raw, own.source, loud=loud)
        if pointer.weak and found.status not in ("resolved", "ambiguous"):
            return None
        return None if pointer.cue == "bracket" and found.status == "dangling" else found
    return _numbers(pointer, raw, own, directory)


def _numbers(pointer: Pointer, raw: RawReference, own: Target, directory: Directory) -> Found | None:
    known = any(directory.knows_number(end) for number in pointer.targets for end in number.split(".."))
    counted = directory.paragraphs.look_up(pointer, raw, own, known=known)
    if counted is not None:
        return counted
    targets = each_of(pointer, directory)
    if pointer.weak:
        marked = bare_number(pointer.from_step) in own.marks if pointer.from_step else False
        targets = tuple(number for number in targets if directory.knows_number(number))
        if marked or not targets:
            return Found((own.procedure or own.id,), "resolved") if pointer.from_step else None
    bare = pointer.cue == "bracket" and pointer.form == "section" and not _keyed(pointer, raw)
    if bare and not any(directory.knows_number(number) for number in targets):
        return Found((), "dangling") if raw.entry else None
    looked = [
        directory.by_page(n, raw._replace(words=clause_of(raw.words, n)), own.source, own)
        if pointer.form == "page"
        else directory.by_number(n, raw, own.source)
        for n in targets
    ]
    apart = not (pointer.any_of or pointer.from_step)
    return together(targets, looked, own.procedure, any_of=pointer.any_of, apart=apart)


def _keyed(pointer: Pointer, raw: RawReference) -> bool:
    """Whether a word such as "section" or "see" stands in the pointing phrase itself."""
    return _LETTER.search(raw.words[pointer.start : pointer.end]) is not None
