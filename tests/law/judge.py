"""The simulated shop and the tally brought together: what a scene's truth proves about F and G.

The shop (tests/shop) was written from shop prose by a hand that never saw the tally, and the tally's builder
by a hand that never saw the shop. Only this folder and the rates in bench/ know both.
"""

from dataclasses import dataclass
from functools import cached_property

from lastbolt.tally.build import build_claims
from lastbolt.tally.exchange import Exchange
from lastbolt.tally.model import small_model
from lastbolt.tally.oracle import FREE, HELD, Found, Oracle
from lastbolt.tally.search import Search, Stopped
from lastbolt.words.claims import ClaimSet, Settings
from law.happened import causes_that_happened
from shop import Scene

SETTINGS = Settings(groups=1, seconds=10.0)
MOST_NODES = 20_000
NO_WAY = 10**6
"""Stands for "no explanation at all", which costs more than any number of mistakes."""


@dataclass(frozen=True)
class Costs:
    """F and G as proved by the engine; `None`: not asked for, or not proved."""

    free: int | None
    held: int | None

    @property
    def proved(self) -> bool:
        """Whether both are known."""
        return self.free is not None and self.held is not None

    def told_free(self, least_margin: int = SETTINGS.least_margin) -> bool:
        """Whether these costs make the verdict `free` (docs/tally.md, the table of verdicts)."""
        if self.free is None or self.held is None or self.held == NO_WAY:
            return False
        return self.held - self.free >= least_margin and self.free <= SETTINGS.most_mistakes


class Engine:
    """The engine that the verdict rests on, asked for costs alone: no lists, no certificate."""

    def __init__(self, claims: ClaimSet) -> None:
        self.claims = claims
        self.model = small_model(claims)
        self.oracle = Oracle(self.model, SETTINGS.seconds)

    @cached_property
    def search(self) -> Search:
        """Made when first needed: finding like places takes longer than one question."""
        return Search(self.oracle, Exchange(self.model, chances=False))

    def explains(self, held: bool, causes: frozenset[str]) -> bool:
        """Whether these causes, with those that cost nothing, explain that something (nothing) holds."""
        mask = sum(
            1 << number
            for number, cause in enumerate(self.claims.causes)
            if cause.id in causes or cause.cost == 0
        )
        return isinstance(self.oracle.ask(HELD if held else FREE, mask), Found)

    def cost(self, held: bool) -> int | None:
        """G or F, proved; `None` when it was not."""
        try:
            least = self.search.least(self.search.sides_of_held() if held else [FREE], MOST_NODES)
        except Stopped:
            return None
        return NO_WAY if least is None else least[0]

    def costs(self) -> Costs:
        """Both."""
        return Costs(self.cost(held=False), self.cost(held=True))


def costs_of(claims: ClaimSet) -> Costs:
    """F and G of a claim set."""
    return Engine(claims).costs()


@dataclass(frozen=True)
class Judged:
    """One scene judged. `by_truth`: the mistakes that happened were themselves an explanation."""

    by_truth: bool
    costs: Costs | None
    fault: str


def judged(scene: Scene, *, whole: bool) -> Judged:
    """What the scene's truth proves against the tally: G <= k if something holds, else F <= k.

    That the mistakes that happened explain the evidence proves it at once (each costs 1, so their number is
    at least the least cost); only where they do not, or if `whole`, does the engine look for F and G.
    """
    engine = Engine(build_claims(scene.evidence))
    mistakes = causes_that_happened(scene, engine.claims)
    by_truth = engine.explains(scene.truth.held, mistakes)
    costs = engine.costs() if whole or not by_truth else None
    fault = broken_law(scene, costs) if costs is not None else ""
    if costs is not None and by_truth and not fault:
        own = costs.held if scene.truth.held else costs.free
        if own is not None and own > len(mistakes):
            fault = f"the engine's least cost is {own}, but {sorted(mistakes)} explain it"
    return Judged(by_truth, costs, f"{fault}; {told(scene)}" if fault else "")


def broken_law(scene: Scene, costs: Costs) -> str:
    """What these costs break: G <= k, F <= k, and never free while held unless k >= m + F."""
    k = len(scene.roots)
    if not scene.truth.held:
        return (
            "" if costs.free is None or costs.free <= k else f"nothing holds, k = {k}, but F = {costs.free}"
        )
    if costs.held is not None and costs.held > k:
        return f"held, k = {k}, but G = {costs.held}"
    if costs.told_free() and costs.free is not None and k < SETTINGS.least_margin + costs.free:
        return f"free while held, k = {k}, F = {costs.free}, G = {costs.held}"
    return ""


def told(scene: Scene) -> str:
    """The scene's mistakes, and all that is needed to make it again."""
    roots = ", ".join(f"{root.kind} ({root.subject})" for root in scene.roots) or "no mistake at all"
    return f"{roots}; simulate({scene.seed}, {scene.settings})"
