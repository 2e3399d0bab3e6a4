"""The account of a joint: the least that must have gone wrong, if nothing holds and if something does.

`solve` answers once; a `Joint` keeps what it learnt for further questions about the same claims. It never
says `free` unless F and G are proved; whatever stops short says so.
"""

from dataclasses import dataclass
from functools import cached_property

from lastbolt.tally.certify import certificate
from lastbolt.tally.exchange import Exchange, bits, chances_tell_apart
from lastbolt.tally.held_there import HeldThere, checked_state
from lastbolt.tally.model import small_model
from lastbolt.tally.oracle import FREE, HELD, Oracle
from lastbolt.tally.search import Search, Stopped
from lastbolt.tally.time_limit import TimeLimit
from lastbolt.words.claims import Account, Certificate, ClaimSet, Explanation, Group, Settings, Verdict

MOST_LISTED = 12
"""Mistakes: with more than so many an explanation is one of a great many, and none of them likely."""
NODES_PER_SECOND = 2000
"""Sets of causes tried, at most, for each second that the settings allow: a limit that no clock decides."""


def solve(claims: ClaimSet, settings: Settings | None = None) -> Account:
    """The verdict on a claim set, with explanations of free and of held and, for `free`, a certificate."""
    return Joint(claims, settings or Settings()).account()


class Joint:
    """One claim set with its small model, exchanges and conflicts, kept from one question to the next."""

    def __init__(self, claims: ClaimSet, settings: Settings, limit: TimeLimit | None = None) -> None:
        """`limit`: that of the whole answer, if it began before."""
        self.claims = claims
        self.settings = settings
        self.limit = limit or TimeLimit(settings.all_seconds)
        self.faults = _faults(claims)
        if not self.faults:
            model = small_model(claims)
            self.search = Search(Oracle(model, settings.seconds, self.limit), Exchange(model))
            self.costs_only = self.search
            if chances_tell_apart(claims):
                rough = Exchange(model, chances=False)
                self.costs_only = Search(self.search.oracle, rough, self.search.pool)

    def account(self) -> Account:
        """The verdict, with explanations of free and of held and, for `free`, a certificate."""
        if self.faults:
            return Account("not shown", None, None, None, proved=False, limits=self.faults)
        return _Accounting(self.search, self.costs_only, self.settings).result()

    @cached_property
    def places(self) -> HeldThere:
        """Answers about some of the holders on their own; only for claims without faults."""
        return HeldThere(self.search, _nodes(self.settings))


@dataclass(frozen=True)
class Side:
    """What was settled about one side: the least cost; `None`: no explanation, or not proved."""

    settled: bool
    cost: int | None


class _Accounting:
    """One run of the engine over one claim set."""

    def __init__(self, search: Search, costs_only: Search, settings: Settings) -> None:
        self.search = search
        self.costs_only = costs_only
        self.settings = settings
        self.limits: list[str] = []
        self.cut = False
        self.nodes = _nodes(settings)

    def result(self) -> Account:
        """The finished account."""
        held_sides = self.search.sides_of_held()
        free = self._side([FREE], "free")
        held = self._side(self.costs_only.sides_of_held(), "held")
        verdict, margin = self._verdict(free, held)
        free_groups = self._groups([FREE], free.cost) if free.cost is not None else ()
        held_groups = self._groups(held_sides, held.cost) if held.cost is not None else ()
        proof: Certificate | None = None
        if verdict == "free":
            proof = self._certificate()
        if self.limits:
            verdict = "not shown"
        return Account(
            verdict=verdict,
            free_cost=free.cost,
            held_cost=held.cost,
            margin=margin,
            proved=free.settled and held.settled,
            free=free_groups,
            held=held_groups,
            list_cut=self.cut,
            limits=tuple(self.limits),
            certificate=proof if verdict == "free" else None,
        )

    def _side(self, sides: list[int], name: str) -> Side:
        """The least cost of one side, proved; a limit is noted."""
        try:
            least = self.costs_only.least(sides, self.nodes)
        except Stopped as stopped:
            reached = self.costs_only.reached
            made = "no mistake, perhaps some" if not reached else f"at least {reached}, perhaps more"
            self.limits.append(f"{name}: {stopped}; mistakes needed so far: {made}")
            return Side(settled=False, cost=None)
        if least is None:
            return Side(settled=True, cost=None)
        cost, side, mask, state = least
        if checked_state(self.search, FREE if side == FREE else HELD, mask | self.search.weak, state) is None:
            self.limits.append(
                f"{name}: the state found does not fit the claims when checked in whole numbers"
            )
            return Side(settled=False, cost=None)
        return Side(settled=True, cost=cost)

    def _verdict(self, free: Side, held: Side) -> tuple[Verdict, int | None]:
        """The rule of the tally; a side without any explanation never makes `free`."""
        settings = self.settings
        if not (free.settled and held.settled):
            return "not shown", None
        if not self.search.oracle.model.claims.holders:
            self.limits.append("no holder is named: there is nothing to decide")
            return "not shown", None
        if free.cost is None and held.cost is None:
            self.limits.append("claims without a cause contradict each other")
            return "not shown", None
        if held.cost is None:
            self.limits.append(
                "claims without a cause leave no way for anything to hold: nothing was shown by looking"
            )
            return "not shown", None
        if free.cost is None:
            return "held", None
        margin = held.cost - free.cost
        if margin >= settings.least_margin and free.cost <= settings.most_mistakes:
            return "free", margin
        return ("held" if margin <= -1 else "not shown"), margin

    def _groups(self, sides: list[int], cost: int) -> tuple[Group, ...]:
        """The list of explanations of one side; a limit or more of them than asked for sets `cut`.

        Those that need very many mistakes are not looked for, beside the cheapest: nobody reads them.
        """
        whole = FREE if sides == [FREE] else HELD
        groups: list[Group] = []
        try:
            for mask, state in self.search.listed(sides, self.nodes // 4, max(cost, MOST_LISTED)):
                if len(groups) == self.settings.groups:
                    self.cut = True
                    break
                shown = (self.search.oracle.tidy(whole, mask) if whole == HELD else None) or state
                checked = checked_state(self.search, whole, mask, shown)
                if checked is None:
                    self.limits.append("an explanation does not fit the claims when checked in whole numbers")
                    break
                groups.append(self._group(mask, checked))
        except Stopped:
            self.cut = True
        return tuple(groups)

    def _group(self, mask: int, state: tuple[tuple[str, int], ...]) -> Group:
        search = self.search
        names = [c.id for c in search.oracle.model.claims.causes]
        first = Explanation(
            tuple(names[i] for i in bits(mask)), search.cost(mask), search.weight(mask), state
        )
        alike = tuple(tuple(names[k] for k in search.exchange.stand_ins(i)) for i in bits(mask))
        return Group(first, search.exchange.alike(mask), alike)

    def _certificate(self) -> Certificate | None:
        """The certificate; should its witness fail, a limit is noted and there is none."""
        search = self.costs_only
        least = search.least([FREE], self.nodes)
        if least is None:
            return None
        cost, _, mask, state = least
        # Weak witnesses are disbelieved in the witness too; they cost nothing.
        checked = checked_state(search, FREE, mask | search.weak, state)
        if checked is None:
            return None
        try:
            return certificate(search, (mask | search.weak, checked), self.settings.least_margin + cost)
        except Stopped as stopped:
            self.limits.append(f"certificate: {stopped}")
            return None


def _nodes(settings: Settings) -> int:
    return max(100, int(settings.seconds * NODES_PER_SECOND))


def _faults(claims: ClaimSet) -> tuple[str, ...]:
    """What makes a claim set unusable, in words; empty if it can be used."""
    faults = []
    unknowns = {u.id for u in claims.unknowns}
    causes = {c.id for c in claims.causes}
    for what, ids, distinct in (
        ("unknown", [u.id for u in claims.unknowns], unknowns),
        ("cause", [c.id for c in claims.causes], causes),
        ("claim", [c.id for c in claims.claims], {c.id for c in claims.claims}),
    ):
        if len(ids) != len(distinct):
            twice = next(i for i in ids if ids.count(i) > 1)
            faults.append(f"{what} {twice!r} is given twice")
    faults += [
        f"unknown {u.id!r} has its lower bound above its upper" for u in claims.unknowns if u.lower > u.upper
    ]
    faults += [f"cause {c.id!r} has a cost below 0" for c in claims.causes if c.cost < 0]
    faults += [f"holder {h!r} is not an unknown" for h in claims.holders if h not in unknowns]
    for claim in claims.claims:
        faults += [
            f"claim {claim.id!r} names no known unknown {u!r}" for u, _ in claim.terms if u not in unknowns
        ]
        faults += [f"claim {claim.id!r} names no known cause {k!r}" for k in claim.causes if k not in causes]
    return tuple(faults)
