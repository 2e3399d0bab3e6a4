"""`lastbolt compare`: what two places of the sources say of one thing, side by side, with the sums shown."""

import sys
from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path

from msgspec.structs import replace

from lastbolt.app.compare_sources import compare_sources
from lastbolt.cli import say
from lastbolt.edge import documents
from lastbolt.tally.unused import strange_field
from lastbolt.words.citation import Citation
from lastbolt.words.compared import Compared, Finding, Match, Side, Term
from lastbolt.words.machine import Machine
from lastbolt.words.problem import Problem
from lastbolt.words.where import places

MOST_WORDS = 110
MOST_PLACES = 3
MOST_AGREED = 40
HEADS = {
    "disagree": "They disagree",
    "not comparable": "Not comparable",
    "agree": "They agree",
}


def run(args: Namespace) -> int:
    """Compare: 0 all agrees, 1 something does not, is open or was not compared, 2 a file cannot be read."""
    opened = [(name, documents.opened(Path(name), Machine)) for name in args.models]
    found = compare_sources([one.document for _, one in opened], [Path(name).name for name, _ in opened])
    unread = tuple(problem for name, one in opened for problem in _unread(name, one))
    found = replace(found, problems=unread)
    if args.json:
        say.as_json(found)
    else:
        show(found, every=args.all)
    settled = found.findings and all(one.verdict == "agree" for one in found.findings)
    return 0 if settled and not found.matches and not unread else 1


def _unread(file: str, opened: documents.Opened[Machine]) -> Iterator[Problem]:
    """Fields that were not compared, because nothing reads them."""
    for field in opened.strange:
        yield replace(strange_field(field, here=False), where=f"{file}, {field.thing}")


def show(found: Compared, *, every: bool) -> None:
    """Disagreements, then what cannot be compared and why, then proposals; what agrees as one line each."""
    say.big(_sentence(found))
    for problem in found.problems:
        say.problem(problem, sys.stdout)
    for verdict in ("disagree", "not comparable"):
        some = [one for one in found.findings if one.verdict == verdict]
        if some:
            say.heading(f"{HEADS[verdict]} ({len(some)})")
        for number, one in enumerate(some, start=1):
            _show_finding(number, one)
    if found.matches:
        say.heading(f"Perhaps one part ({len(found.matches)}): nothing was added up by these")
        for match in found.matches:
            _show_match(match)
    _show_agreeing([one for one in found.findings if one.verdict == "agree"], every=every)
    _show_rest(found, every=every)


def _sentence(found: Compared) -> str:
    if not found.findings:
        return "Nothing is stated in two places: nothing was compared."
    counts = {
        verdict: sum(one.verdict == verdict for one in found.findings)
        for verdict in ("disagree", "not comparable", "agree")
    }
    return (
        f"Stated in two places: {len(found.findings)}. {counts['disagree']} disagree, "
        f"{counts['not comparable']} cannot be compared, {counts['agree']} agree."
    )


def _what(one: Finding) -> str:
    within = f" in {one.within}" if one.within else ""
    engines = f" ({one.engines})" if one.engines else ""
    return f"{one.what}{within}{engines}"


def _show_finding(number: int, one: Finding) -> None:
    code = f"  {one.code}" if one.code else ""
    say.say(f"{number}. {one.matter}: {_what(one)}{code}", "  ", "     ")
    for side in one.sides:
        _show_side(side)
    if one.why:
        say.say(one.why, "     ", "     ")


def _show_side(side: Side) -> None:
    say.say(
        f"{side.place}: {_short(side.says)}{_at(side.citations) if not side.terms else ''}",
        "     ",
        "         ",
    )
    for term in side.terms:
        say.say(_term(term), "       ", "         ")


def _term(term: Term) -> str:
    number = "?" if term.count is None else str(term.count)
    times = f"{term.times} x " if term.times != 1 else ""
    left_out = f", not added: {term.left_out}" if term.left_out else ""
    return f"{times}{number}  {term.where}{left_out}{_at(term.citations)}"


def _show_match(match: Match) -> None:
    say.say(
        f'"{match.one.says}" ({match.one.place}) and "{match.other.says}" ({match.other.place})',
        "  - ",
        "    ",
    )
    say.say(f"{match.why}{_at((*match.one.citations[:1], *match.other.citations[:1]))}", "    ", "    ")


def _show_agreeing(agreed: list[Finding], *, every: bool) -> None:
    """Each as one line; rows that stand in two forms of one list are only counted unless all is asked for."""
    if not agreed:
        return
    say.heading(f"{HEADS['agree']} ({len(agreed)})")
    shown = [one for one in agreed if every or one.matter != "two forms of one row"]
    forms = len(agreed) - len(shown)
    for one in shown if every else shown[:MOST_AGREED]:
        _show_agreed(one, every=every)
    if not every and len(shown) > MOST_AGREED:
        say.say(f"and {len(shown) - MOST_AGREED} more (--all)", "  ", "    ")
    if forms:
        say.say(
            f"{say.count(forms, 'row')} of parts lists stand in two forms that say the same (--all)",
            "  ",
            "    ",
        )


def _show_agreed(one: Finding, *, every: bool) -> None:
    said = "; ".join(f"{side.place} {_short(side.says)}" for side in one.sides)
    say.say(f"{_what(one)}: {said}", "  - ", "    ")
    if every:
        for side in one.sides:
            _show_side(side)


def _show_rest(found: Compared, *, every: bool) -> None:
    if found.unused:
        say.heading("Lists that were set against nothing")
        for side in found.unused:
            say.say(f"{side.place}: {side.says}{_at(side.citations)}", "  - ", "    ")
    if found.alone:
        say.heading("Named in the list of the machine alone")
        shown = found.alone if every else found.alone[:12]
        more = f" and {len(found.alone) - len(shown)} more (--all)" if len(shown) < len(found.alone) else ""
        say.say(f"{', '.join(shown)}{more}.")


def _at(citations: tuple[Citation, ...]) -> str:
    if not citations:
        return ""
    named = places(citations).split("; ")
    more = f"; and {len(named) - MOST_PLACES} more" if len(named) > MOST_PLACES else ""
    return f"  ({'; '.join(named[:MOST_PLACES])}{more})"


def _short(words: str) -> str:
    return words if len(words) <= MOST_WORDS else f"{words[:MOST_WORDS].rsplit(' ', 1)[0]} ..."
