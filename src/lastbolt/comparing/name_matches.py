"""Two names, or two numbers, that may be one part: proposed with the reason, never assumed."""

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from lastbolt.comparing.part_names import bare_number, is_sized, tokens, without_sides, worded
from lastbolt.words.citation import Citation
from lastbolt.words.compared import Match, Side
from lastbolt.words.quantity import Kind

ALIKE = 0.55
"""From this share of common words on, two names with one last word may be one part (assumed)."""
_MOST = 3


class Named(Struct, frozen=True):
    """A part as one place names it. `count`: over all lines of that place, None where one gives no number."""

    place: str
    name: str
    part_number: str = ""
    kind: Kind | None = None
    count: int | None = None
    under_name: int = 0
    """How many of `count` the other place has under this very name."""
    citations: tuple[Citation, ...] = ()


def same_numbers(some: Iterable[Named], others: Sequence[Named]) -> Iterator[Match]:
    """One number under two names, and one name with two numbers."""
    for one in some:
        for other in others:
            numbers = bare_number(one.part_number), bare_number(other.part_number)
            if not all(numbers):
                continue
            if numbers[0] == numbers[1] and not worded(one.name) & worded(other.name):
                yield Match(_side(one), _side(other), f"one part number, {one.part_number}, under two names")
            elif (
                numbers[0] != numbers[1] and tokens(one.name) == tokens(other.name) and _one_size(one, other)
            ):
                why = f"one name with two part numbers, {one.part_number} and {other.part_number}"
                yield Match(_side(one), _side(other), why)


def alike(strangers: Iterable[Named], others: Sequence[Named]) -> Iterator[Match]:
    """For each part that the other place lacks under its name: what it may be called there."""
    for one in strangers:
        scored = sorted(
            (
                (score, number)
                for number, other in enumerate(others)
                if (score := _score(one, other)) >= ALIKE
            ),
            key=lambda pair: (-pair[0], pair[1]),
        )
        best = [number for score, number in scored if score > scored[0][0] - 0.01][:_MOST]
        for number in best:
            yield Match(_side(one), _side(others[number]), _why(one, others[number], len(best)))


def _score(one: Named, other: Named) -> float:
    """How alike two names are; 0 where sizes or sorts speak against it."""
    if is_sized(one.kind) or is_sized(other.kind):
        return 0.0
    first, second = without_sides(worded(one.name)), without_sides(worded(other.name))
    common = first & second
    if not common or not _last(one.name) & _last(other.name):
        return 0.0
    if common in (first, second):
        return 1.0 if first == second else 0.9 if len(common) > 1 else 0.7
    return 2 * len(common) / (len(first) + len(second))


def _last(name: str) -> frozenset[str]:
    """The word that says what sort of part it is: the last before a bracket, a dash or a comma."""
    head = name.partition("(")[0].partition(" - ")[0].partition(",")[0]
    for word in reversed(head.split()):
        if found := worded(word):
            return found
    return frozenset()


def _figures(name: str) -> frozenset[str]:
    return frozenset(token for token in tokens(name) if any(sign.isdigit() for sign in token))


def _one_size(one: Named, other: Named) -> bool:
    return one.kind is None or other.kind is None or one.kind.matches(other.kind) != "no"


def _why(one: Named, other: Named, rivals: int) -> str:
    first, second = worded(one.name), worded(other.name)
    if first == second:
        said = "the same words"
    elif first < second or second < first:
        said = "one name is part of the other"
    else:
        said = f"both are called {' '.join(w for w in other.name.split() if worded(w) & first)}"
    sizes = _figures(one.name), _figures(other.name)
    if all(sizes) and not sizes[0] & sizes[1]:
        said += "; their sizes differ"
    if one.count is not None and other.count is not None:
        more = f" and {other.under_name} under its own name" if other.under_name else ""
        fits = "fit" if one.count + other.under_name == other.count else "differ"
        said += f"; the counts {fits} ({one.count}{more}; {other.count})"
    return said + (f"; one of {rivals} that it may be" if rivals > 1 else "")


def _side(one: Named) -> Side:
    number = f", {one.part_number}" if one.part_number else ""
    return Side(one.place, f"{one.name}{number}", total=one.count, citations=one.citations)
