"""For which engines something is, as S1000D markup says it (`applic`), in the model's own terms."""

import re
from collections.abc import Mapping

from lastbolt.words.applies import limited_to
from lastbolt.words.machine import EVERY, Applies, Serials
from lastbolt.words.tree import Element

_SERIAL = re.compile(r"serial|^s/?n$|^msn$", re.IGNORECASE)
_KIND = re.compile(r"model|variant|version|type|product", re.IGNORECASE)
"""Properties whose values are kinds of engine; of others (a modification, a place of use) people judge."""
_ONE_NUMBER = re.compile(r"\D*(\d+)\D*")


def applicability(applic: Element | None) -> tuple[Applies, str]:
    """The engines an `applic` element singles out, or a condition in words where its logic says more.

    One assertion, several of one property joined by "or", and several of different properties joined by "and"
    are understood; of anything else the display text (or the assertions in words) becomes a condition that a
    person must judge.
    """
    if applic is None:
        return EVERY, ""
    shown = applic.first("displayText")
    words = shown.words() if shown is not None else ""
    asserts = [e for e in applic.below("assert") if e.get("applicPropertyIdent", "actidref")]
    said = (
        words
        or _in_words(applic)
        or ("some engines only, by logic that was not understood" if asserts else "")
    )
    if not asserts or not _plain(applic):
        return EVERY, said
    variants: list[str] = []
    numbers: list[Serials] = []
    counted = ""
    kind = ""
    for one in asserts:
        values = one.get("applicPropertyValues", "actvalues")
        ident = one.get("applicPropertyIdent", "actidref")
        if not _SERIAL.search(ident):
            if not _KIND.search(ident) or kind not in ("", ident):
                return EVERY, said  # several kinds that must hold together are no list of kinds
            if "~" in values:
                return EVERY, said  # which kinds lie in a range of kinds is said nowhere here
            kind = ident
            variants += [v for v in (part.strip() for part in values.split("|")) if v]
            continue
        if counted not in ("", ident):
            return EVERY, said  # two ways of counting engines that must hold together
        counted = ident
        for span in values.split("|"):
            first, to, last = span.partition("~")
            low, high = _digits(first), _digits(last if to else first)
            if low is None or high is None or low > high:
                return EVERY, said
            numbers.append(Serials(low, high))
    return limited_to(numbers, said, tuple(dict.fromkeys(variants))), ""


def by_id(root: Element) -> Mapping[str, Element]:
    """The applicability statements of a module that steps and conditions refer to."""
    group = root.first("referencedApplicGroup", "inlineapplics")
    return {e.get("id"): e for e in group.below("applic")} if group is not None else {}


def applied(element: Element, statements: Mapping[str, Element]) -> tuple[Applies, str]:
    """The engines of an element, by the statement it names or holds; several, or none there, are words."""
    names = element.get("applicRefId", "applicRefIds").split()
    if not names:
        return applicability(element.child("applic"))
    if len(names) == 1 and names[0] in statements:
        return applicability(statements[names[0]])
    said = []
    for name in names:
        if name not in statements:
            said.append(f'by a statement that the module does not hold ("{name}")')
            continue
        applies, condition = applicability(statements[name])
        said.append(applies.words or condition)
    return EVERY, f"some engines only: {'; '.join(filter(None, said))}"


def _plain(applic: Element) -> bool:
    """Whether all is one assertion, "or" within one property, or "and" between different ones."""
    evaluations = list(applic.below("evaluate"))
    asserts = list(applic.below("assert"))
    if not evaluations:
        return len(asserts) == 1
    if len(evaluations) > 1:
        return False
    idents = [e.get("applicPropertyIdent", "actidref") for e in asserts]
    kind = evaluations[0].get("andOr", "operator").lower()
    return len(set(idents)) == 1 if kind == "or" else len(set(idents)) == len(idents)


def _digits(text: str) -> int | None:
    """The one number in it; none in "A1-0005", of which nobody knows which figures count the engines."""
    found = _ONE_NUMBER.fullmatch(text)
    return int(found[1]) if found else None


def _in_words(element: Element, *, inside: bool = False) -> str:
    """The logic of assertions in words: "(model E and serialno 1 to 9) or model H"."""
    if element.name == "assert":
        values = element.get("applicPropertyValues", "actvalues").replace("~", " to ").replace("|", " or ")
        return f"{element.get('applicPropertyIdent', 'actidref')} {values}"
    nested = element.name == "evaluate"
    parts = [_in_words(e, inside=nested) for e in element.children("assert", "evaluate")]
    said = f" {element.get('andOr', 'operator').lower() or 'and'} ".join(parts)
    return f"({said})" if inside and len(parts) > 1 else said
