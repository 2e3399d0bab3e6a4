"""Which of the builder's causes really happened: each mistake of the shop, in the tally's own names.

Names are put together from what the shop says of its mistakes and from how `Ledger.cause` forms its ids. A
mistake that the tally has no name for gets none; that is what the law then shows.
"""

from collections.abc import Callable

from lastbolt.tally.layout import whole_kind
from lastbolt.words.claims import ClaimSet
from lastbolt.words.evidence import Evidence, Printed
from lastbolt.words.quantity import Kind
from shop import Root, Scene


def causes_that_happened(scene: Scene, claims: ClaimSet) -> frozenset[str]:
    """One cause for each mistake, the broadest that names it; mistakes without a name are left out."""
    there = {cause.id for cause in claims.causes}
    found = (next((name for name in _names(root, scene) if name in there), None) for root in scene.roots)
    return frozenset(name for name in found if name is not None)


def true_causes(scene: Scene, claims: ClaimSet) -> frozenset[str]:
    """Every cause of which it is true to say that it happened, and those that cost nothing."""
    there = {cause.id for cause in claims.causes}
    weak = {cause.id for cause in claims.causes if cause.cost == 0}
    return frozenset(name for root in scene.roots for name in _names(root, scene) if name in there) | weak


def _names(root: Root, scene: Scene) -> list[str]:
    """The names that may be given to one mistake, the broadest first."""
    names = NAMES[root.kind](scene.evidence, root.subject)
    if root.kind == "broken head" and root.subject in _empty_now(scene):
        # The shank came out later, under a step: what was seen broken in is gone, and no act says so.
        return [f"taken out, not recorded:{root.subject}", *names]
    if root.kind in ("misprint", "inherited misprint", "misreading"):
        # Where the engine's own file speaks, a print no longer counts; it may still have misled its reader.
        return [*names, "engine"]
    return names


def _empty_now(scene: Scene) -> set[str]:
    return {place.id for place in scene.truth.places if place.state == "empty"}


def _rows(evidence: Evidence, wanted: Callable[[str, Printed], bool]) -> list[str]:
    return [
        f"misprint:{printed.source}:{line.id}:{number}"
        for line in evidence.lines
        for number, printed in enumerate(line.printed)
        if wanted(line.id, printed)
    ]


def _misreading(evidence: Evidence, about: str) -> list[str]:
    return [f"misreading:{about}", *_rows(evidence, lambda _, printed: printed.reading == about)]


def _misprint(evidence: Evidence, about: str) -> list[str]:
    if about.startswith("step "):
        return [f"misprint:{about.removeprefix('step ')}"]
    return _rows(evidence, lambda line, printed: f"{line} in {printed.source}" == about)


def _inherited(evidence: Evidence, about: str) -> list[str]:
    line_id, _, lineage = about.partition(" in lineage ")

    def own(line: str, printed: Printed) -> bool:
        return line == line_id and printed.lineage == lineage

    return [f"lineage:{lineage}", *_rows(evidence, own)]


def _row_left_out(evidence: Evidence, about: str) -> list[str]:
    lineages = dict.fromkeys(read.lineage for read in evidence.lists)
    if len(lineages) > 1:
        return ["engine"]  # all papers lack the row: to the tally this engine is not as its papers
    kind = whole_kind(_kind(about)).words()
    names = (f"not listed {kind}", "not listed, unnamed")
    return [f"row left out:{lineage}:{name}" for name in names for lineage in lineages]


def _kind(words: str) -> Kind:
    """The kind that the shop's words stand for: "bolt M8x70"."""
    what, _, size = words.partition(" ")
    thread, _, length = size.partition("x")
    return Kind(what, thread, float(length) if length else None)


def _ticked(evidence: Evidence, about: str) -> list[str]:
    step = next(step for step in evidence.steps if step.id == about)
    return [f"ticked, not done:at once:{step.by}:{step.moment}", f"ticked, not done:{about}"]


def _miscounted(_: Evidence, about: str) -> list[str]:
    who, kind, _moment = about.split(", ")
    return [f"{cause}:{who}:{whole_kind(_kind(kind)).words()}" for cause in ("miscount", "heads only")]


NAMES: dict[str, Callable[[Evidence, str], list[str]]] = {
    "misprint": _misprint,
    "misreading": _misreading,
    "inherited misprint": _inherited,
    "row left out": _row_left_out,
    "line not wholly here": lambda _, line: [f"wrongly tied:{line}"],
    "engine not as its papers": lambda *_: ["engine"],
    "ticked, not done": _ticked,
    "done, not recorded": lambda _, step: [f"done, not recorded:{step}"],
    "misjudged a place": lambda _, about: [
        cause + about.replace(" at ", ":") for cause in ("misjudged:", "rod misread:", "light misread:")
    ],
    "did not look": lambda _, who: [f"did not look:{who}"],
    "missed a place": lambda _, about: [f"missed a place:{about.partition(', ')[0]}"],
    "broken head": lambda _, place: [f"broken:{place}"],
    "hole deeper than known": lambda _, place: [f"depth:{place}"],
    "changed at a break": lambda *_: ["changed since"],
    "miscounted": _miscounted,
    "tray mixed or short": lambda *_: ["tray"],
}
