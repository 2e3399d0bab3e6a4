"""What the words before the first step ask for: "The pump bracket must be off.", "Pump bracket removed."."""

from collections.abc import Iterable

from lastbolt.reading.conditions import combined, conditions_in
from lastbolt.reading.lexicon import Hit, Lexicon, Scan
from lastbolt.reading.pointers import Pointer
from lastbolt.reading.sentences import sentences
from lastbolt.reading.step_runs import bids
from lastbolt.reading.steps import RawReference, is_work
from lastbolt.words.machine import DEEDS, Deed

_LONGEST = 16
"""A sentence that only tells a state has no more words than this."""
_POINTING = ("section", "page", "book")


def asked_in(
    text: str, read: Iterable[RawReference], language: Lexicon, *, orders: bool = True
) -> list[RawReference]:
    """A demand in its own words for each sentence that asks for a state or for work.

    Args:
        text: the words before the first step
        read: their references, which ask for themselves
        language: the words of the language
        orders: whether a sentence that tells to take something off asks too: not where sentences are steps
    """
    known = list(read)
    pointing = _pointing(known)
    demanding = {raw.words for raw in known if raw.pointer.form == "demand"}
    found: list[RawReference] = []
    for number, sentence in enumerate(sentences(text, language)):
        if sentence in pointing:
            continue
        scan = language.scan(sentence)
        told = orders and number > 0 and bids_work(scan, language)
        if sentence in demanding or told or states(scan, language) or _necessary(scan) or _absent(scan):
            found.append(demand(scan, language))
    return found


def hinted_in(text: str, read: Iterable[RawReference], language: Lexicon) -> list[RawReference]:
    """The demands of a step or a caution that asks for a state: each holds if a section brings it about."""
    known = list(read)
    told = _pointing(known) | {raw.words for raw in known if raw.pointer.form == "demand"}
    found: list[RawReference] = []
    for sentence in sentences(text, language):
        scan = language.scan(sentence)
        if sentence not in told and (states(scan, language) or _necessary(scan) or _absent(scan)):
            raw = demand(scan, language)
            found.append(raw._replace(pointer=raw.pointer._replace(weak=True)))
    return found


def asks_for_list(text: str, language: Lexicon) -> tuple[Deed, ...]:
    """The deeds of a sentence that asks for what is listed below it: "The following must be off:"."""
    scan = language.scan(text)
    asks = text.rstrip().endswith(":") and (states(scan, language) or _necessary(scan))
    return demand(scan, language).deeds if asks else ()


def listed(text: str, deeds: tuple[Deed, ...], language: Lexicon) -> RawReference | None:
    """An entry of such a list, where it names a thing and tells nothing to do."""
    if bids(text, language):
        return None
    return demand(language.scan(text), language)._replace(deeds=deeds)


def _pointing(read: Iterable[RawReference]) -> set[str]:
    """The sentences that point to a place for sure."""
    return {
        raw.words for raw in read
        if raw.pointer.form in _POINTING or (raw.pointer.form == "title" and not raw.pointer.weak)
    }  # fmt: skip


def demand(scan: Scan, language: Lexicon) -> RawReference:
    """A sentence as a demand in its own words."""
    condition, applies = combined(conditions_in(scan, language) if scan.has("conditions") else [])
    deeds: list[Deed] = [DEEDS[h.key] for h in scan.of("deeds")]
    deeds += ["remove"] if scan.has("requirements", "taken") else []
    deeds = ["remove"] if _absent(scan) else deeds
    whole = Pointer(0, len(scan.text), "demand", (scan.text,), "perform")
    return RawReference(whole, scan.text, tuple(dict.fromkeys(deeds)), condition, applies)


def states(scan: Scan, language: Lexicon) -> bool:
    """Whether words say that something is in a state: "pump bracket off", "The oil has been drained."."""
    tokens = scan.tokens
    if not 1 < len(tokens) <= _LONGEST or scan.has("requirements", "forbidding"):
        return False
    done = _states_at(scan)
    last = next((hit for hit in done if hit.last == len(tokens)), None)
    if last is None or any(hit.first == 0 for hit in done):
        return False
    first = next((n for n, token in enumerate(tokens) if not token.low.isdigit()), 0)
    verbs = [h for h in scan.of("deeds") if h.form == "base" and h.first == first]
    return not any(_bidding(scan, verb, language) for verb in verbs)


def _bidding(scan: Scan, verb: Hit, language: Lexicon) -> bool:
    """Whether the word that opens a sentence is its verb ("Lift the lid off"), no name ("Lift lug off")."""
    behind = scan.tokens[verb.last].low if verb.last < len(scan.tokens) else ""
    noun = language.among(scan.text[verb.start : verb.end].lower(), "deed_nouns")
    return not noun or language.among(behind, "stop", "articles") or language.among(behind, "pronouns")


def _states_at(scan: Scan) -> list[Hit]:
    """The words for states that work brings about."""
    done = [h for h in scan.of("deeds") if h.form == "done" and is_work((DEEDS[h.key],))]
    return [*done, *scan.of("demands", "done", "strict")]


def _necessary(scan: Scan) -> bool:
    """Whether a sentence says that work or a state is necessary: "It is necessary to remove the cover"."""
    if scan.has("renew") or scan.has("fresh") or scan.has("requirements", "forbidding"):
        return False
    for hit in scan.of("requirements", "necessary"):
        behind = [h for h in (*_works(scan), *_states_at(scan), *scan.of("requirements", "stands"))
                  if h.start >= hit.end]  # fmt: skip
        if behind:
            return True
    done = scan.of("order", "after")
    return bool(done) and any(h.start >= done[0].end and h.form != "base" for h in _works(scan))


def _absent(scan: Scan) -> bool:
    """Whether words say that something must not be there: "The flywheel must not be in place"."""
    last = next((hit for hit in scan.of("requirements", "absent") if hit.last == len(scan.tokens)), None)
    ends = [hit for hit in scan.of("requirements", "there") if hit.last == len(scan.tokens)]
    barred = any(hit.last < ends[0].first for hit in scan.of("requirements", "barred")) if ends else False
    return barred or (last is not None and not scan.has("renew") and not scan.has("fresh"))


def _works(scan: Scan) -> list[Hit]:
    return [h for h in scan.of("deeds") if is_work((_deed(h),))]


def _deed(hit: Hit) -> Deed:
    return DEEDS[hit.key]


def bids_work(scan: Scan, language: Lexicon) -> bool:
    """Whether a sentence tells to take something off or put it on."""
    return bids(scan.text, language) and any(h.form == "base" for h in _works(scan))
