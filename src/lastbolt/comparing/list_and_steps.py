"""An assembly's own list beside what its steps use: each size and each counted part."""

from collections.abc import Iterator

from lastbolt.comparing.assemblies import Assembly, for_variant
from lastbolt.comparing.part_names import is_sized, same_size
from lastbolt.comparing.said import count_said
from lastbolt.comparing.uses import Sum, Use, of_name, of_size, summed, unsized
from lastbolt.words.compared import Finding, Side, Term, Verdict
from lastbolt.words.machine import ListedPart


def list_and_steps(assembly: Assembly) -> Iterator[Finding]:
    """Every line of the list that steps speak of, and every size that steps use and the list lacks."""
    if not assembly.entries:
        return
    for variant in assembly.variants() or ("",):
        entries = [entry for entry in assembly.entries if for_variant(entry, variant)]
        for entry in entries:
            shown = variant if entry.applies.variants else ""
            if shown or variant in ("", *assembly.variants()[:1]):
                yield from _line(entry, assembly, shown)
    yield from _lacking(assembly)


def _line(entry: ListedPart, assembly: Assembly, variant: str) -> Iterator[Finding]:
    sized = is_sized(entry.kind)
    some = of_size(assembly.uses, entry.kind) if entry.kind and sized else of_name(assembly.uses, entry.name)
    if not some:
        if sized:
            yield _unnamed(entry, assembly, variant)
        return
    found = summed(some, assembly.procedures)
    verdict, why = _verdict(entry, found, assembly) if sized else _of_part(entry, found)
    yield _finding(verdict, entry, assembly, (found, _steps_side(found)), why, variant)


def _verdict(entry: ListedPart, found: Sum, assembly: Assembly) -> tuple[Verdict, str]:
    listed = entry.quantity.low if entry.quantity.kind == "exactly" else None
    if listed is None:
        return "not comparable", "The list gives no plain number."
    if found.least > listed:
        return "disagree", ""
    if found.open:
        each = ""
        if found.implied is not None:
            fits = "as the list says" if found.implied == listed else f"the list says {listed}"
            each = f" One for each would make {found.implied}; {fits}."
        return "not comparable", f"{_sentence(found.open)}{each}"
    if found.total == listed:
        return "agree", ""
    if loose := unsized(assembly.uses, entry.name):
        where = summed(loose, assembly.procedures).terms[0].where
        return "not comparable", f"{where} names no size and may mean the rest."
    return "disagree", ""


def _of_part(entry: ListedPart, found: Sum) -> tuple[Verdict, str]:
    """A part that is no fastener is spoken of again and again: only what fits, or is too many, tells."""
    listed = entry.quantity.low if entry.quantity.kind == "exactly" else None
    counts = [term.count for term in found.terms if term.count is not None and not term.left_out]
    if listed is None:
        return "not comparable", "The list gives no plain number."
    if found.total == listed or listed in counts:
        return "agree", ""
    if counts and max(counts) > listed:
        return "disagree", ""
    return "not comparable", "The steps may speak of the same pieces twice, or not of all."


def _lacking(assembly: Assembly) -> Iterator[Finding]:
    """Sizes that steps put on and that the list does not have at all."""
    done: list[Use] = []
    for use in assembly.uses:
        kind = use.mention.kind
        if kind is None or not is_sized(kind) or any(same_size(kind, one.mention.kind) for one in done):
            continue
        done.append(use)
        if use.left_out or any(same_size(kind, entry.kind) for entry in assembly.entries):
            continue
        found = summed(of_size(assembly.uses, kind), assembly.procedures)
        nothing = Side(f"list of {assembly.title}", "not in it", citations=assembly.entries[0].citations)
        sides = (nothing, _steps_side(found))
        yield Finding(
            "disagree", "count", f"{use.mention.name} ({kind.words()})", sides, within=assembly.title
        )


def _unnamed(entry: ListedPart, assembly: Assembly, variant: str) -> Finding:
    silent = Side("its steps", "not named by this size")
    why = "No step names this size: it may be told by a picture or by its name alone."
    return _finding("not comparable", entry, assembly, (None, silent), why, variant)


def _finding(
    verdict: Verdict,
    entry: ListedPart,
    assembly: Assembly,
    steps: tuple[Sum | None, Side],
    why: str,
    variant: str,
) -> Finding:
    said = count_said(entry.quantity).removesuffix(" x") or "no number"
    line = Side(f"list of {assembly.title}", said, total=entry.quantity.low, citations=entry.citations)
    return Finding(verdict, "count", entry.name, (line, steps[1]), why, assembly.title, variant)


def _steps_side(found: Sum) -> Side:
    cited = tuple(one for term in found.terms for one in term.citations)
    return Side(
        "its steps", sum_said(found.terms, found.open), found.terms, found.total, bool(found.open), cited
    )


def sum_said(terms: tuple[Term, ...], open_: tuple[str, ...] = ()) -> str:
    """A sum as people write it, term by term.

    >>> sum_said((Term("3.1", 4), Term("3.2", 2, times=3)))
    '4 + 3 x 2 = 10'
    >>> sum_said((Term("3.1", 4), Term("3.2")), ("3.2 gives no number",))
    '4 + ? = 4 and more'
    """
    added = [term for term in terms if not term.left_out]
    if not added:
        return "none for every machine"
    parts = [_said(term) for term in added]
    total = sum((term.count or 0) * term.times for term in added)
    more = " and more" if open_ else ""
    if len(parts) == 1 and added[0].times == 1:
        return f"{parts[0]}{more}" if added[0].count is not None else "used, no number"
    return f"{' + '.join(parts)} = {total}{more}"


def _said(term: Term) -> str:
    number = "?" if term.count is None else str(term.count)
    return number if term.times == 1 else f"{term.times} x {number}"


def _sentence(reasons: tuple[str, ...]) -> str:
    text = "; ".join(reasons)
    return f"{text[:1].upper()}{text[1:]}."
