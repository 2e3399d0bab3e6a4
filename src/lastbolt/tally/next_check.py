"""What to look at next: how much doubt about "free or held" each check would remove for its effort.

All candidate answers are written into one claim set at once, each excused by a cause of its own ("not
asked") that costs more than anything else; asking an answer means no longer excusing it. So one warm
linear model and one pool of conflicts serve every check, and checks that exchanging places turns into one
another are worked out once.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import exp, log

from lastbolt.tally.exchange import Exchange
from lastbolt.tally.model import small_model
from lastbolt.tally.oracle import FREE, HELD, Found, Oracle
from lastbolt.tally.search import Search, Stopped
from lastbolt.tally.time_limit import TimeLimit
from lastbolt.words.claims import Account, Advice, Answer, Cause, Check, Claim, ClaimSet, Outlook, Settings

UNASKED_COST = 1_000_000
MOST_MEMBERS = 400
"""Of a group of more alike explanations than this, so many are looked at, each standing for its share."""


@dataclass(frozen=True)
class Horizon:
    """What is looked at: explanations not less likely than `odds_cut` times the likeliest (assumed rates)."""

    odds_cut: float = 1e-4
    margins: int = 3
    """For so many of the best checks the margin after the answer that agrees with free is worked out."""
    first: frozenset[str] = frozenset()
    """Checks of which it is worked out in any case."""
    above: int | None = None
    """If given: it is worked out for further checks, best first, until one raises the margin above this."""
    most: int = 10
    """For no more than so many that differ."""
    limit: TimeLimit | None = None
    """That of the whole answer."""


@dataclass(frozen=True)
class Member:
    """One explanation: its side, its causes (bits) and its odds."""

    side: int
    mask: int
    odds: float


def advise(
    claims: ClaimSet,
    account: Account,
    checks: Iterable[Check],
    settings: Settings | None = None,
    horizon: Horizon | None = None,
    exchange: Exchange | None = None,
) -> tuple[Advice, ...]:
    """Every check with its value, best first; the doubt is that of the explanations the account lists.

    `exchange`: that of the claim set, if it is known already.
    """
    checks, horizon = list(checks), horizon or Horizon()
    if not checks or _is_over(horizon) or not (account.free or account.held):
        return ()
    before = exchange or Exchange(small_model(claims))
    adviser = _Adviser(_with_answers(claims, checks), account, checks, settings or Settings())
    adviser.oracle.limit = horizon.limit
    return adviser.advice(before, horizon)


class _Adviser:
    """One round of advice over one claim set with every answer in it."""

    def __init__(self, claims: ClaimSet, account: Account, checks: list[Check], settings: Settings) -> None:
        self.checks = checks
        self.account = account
        self.settings = settings
        self.claims = claims
        self.model = small_model(claims)
        self.exchange = Exchange(self.model)
        self.oracle = Oracle(self.model, settings.seconds)
        self.search = Search(self.oracle, self.exchange)
        self.number = {c.id: i for i, c in enumerate(self.claims.causes)}
        self.unasked = sum(1 << i for i, c in enumerate(self.claims.causes) if c.kind == _UNASKED)
        self._fits: dict[tuple[int, int], bool] = {}
        self._allowed: dict[tuple[int, int], list[int]] = {}
        """For each explanation the answers that each state found for it allows: what need not be asked."""

    def advice(self, before: Exchange, horizon: Horizon) -> tuple[Advice, ...]:
        """Values of all checks, and margins for the best."""
        members = self._members(before, horizon.odds_cut)
        known: dict[tuple[object, ...], Advice] = {}
        worked: list[tuple[Check, Advice]] = []
        for check in self.checks:
            key = self._common(check)
            if key not in known:
                over = _is_over(horizon)
                known[key] = Advice(check.id, 0.0, ()) if over else self._worth(check, members)
            worked.append((check, _renamed(known[key], check)))
        worked.sort(key=lambda pair: -pair[1].value)
        margins: dict[tuple[object, ...], int | None] = {}
        advised = []
        for rank, (check, advice) in enumerate(worked):
            key = self._common(check)
            asked = rank < horizon.margins or check.id in horizon.first or _none_raises(margins, horizon)
            if asked and key not in margins and advice.free_answer is not None and not _is_over(horizon):
                margins[key] = self._margin(check, advice.free_answer)
            advised.append(
                Advice(advice.check, advice.value, advice.outlooks, advice.free_answer, margins.get(key))
            )
        return tuple(advised)

    def _common(self, check: Check) -> tuple[object, ...]:
        """The same for checks that exchange turns into one another."""
        asked = [self.exchange.common_form(FREE, self._asked(check, a))[1] for a in check.answers]
        together = sum(self._asked(check, a) for a in check.answers)
        return (*asked, self.exchange.common_form(FREE, together)[1], check.effort_min)

    def _asked(self, check: Check, answer: Answer) -> int:
        return 1 << self.number[_unasked(check, answer)]

    def _members(self, before: Exchange, odds_cut: float) -> list[Member]:
        """The account's explanations, groups opened, with odds relative to the likeliest."""
        listed = [(FREE, g) for g in self.account.free] + [(HELD, g) for g in self.account.held]
        lightest = min(g.first.weight for _, g in listed)
        members = []
        for side, group in listed:
            odds = exp(lightest - group.first.weight)
            if odds < odds_cut:
                continue
            mask = sum(1 << self.number[c] for c in group.first.causes)
            own = []
            for member, _ in before.members(mask):
                own.append(member)
                if len(own) == MOST_MEMBERS:
                    break
            # Alike before the checks, not always after an answer: so each is followed on its own.
            members += [Member(side, m, odds * group.alike / len(own)) for m in own]
        return members

    def _possible(self, member: Member, asked: int) -> bool:
        """Whether the explanation stands with this answer and nothing else going wrong."""
        key = (member.side, self.exchange.common_form(FREE, member.mask | asked)[1])
        if key not in self._fits:
            known = self._allowed.setdefault((member.side, member.mask), [])
            self._fits[key] = any(allowed & asked for allowed in known)
            if not self._fits[key]:
                excused = (member.mask | self.unasked) & ~asked
                state = self.search.explains(member.side, excused)
                self._fits[key] = state is not None
                if state is not None:
                    known.append(self._allowed_by(state))
        return self._fits[key]

    def _allowed_by(self, state: Found) -> int:
        """The answers (bits) that are true in this state."""
        allowed = self.unasked
        for own in self.oracle.broken_by(state):
            allowed &= ~own
        return allowed

    def _chances(self, member: Member, check: Check) -> list[float]:
        """P(answer | explanation): equal among answers it allows, else as a mistake in the answer."""
        fits = [self._possible(member, self._asked(check, a)) for a in check.answers]
        chances = []
        for answer, fit in zip(check.answers, fits, strict=True):
            slips = [c.chance for c in answer.causes]
            chances.append(1 / sum(fits) if fit else max(slips, default=0.0))
        total = sum(chances)
        return [c / total for c in chances] if total else [1 / len(chances)] * len(chances)

    def _worth(self, check: Check, members: list[Member]) -> Advice:
        """The value of one check, what its answers would mean, and which answer free expects."""
        try:
            tables = [(m, self._chances(m, check)) for m in members]
        except Stopped:
            return Advice(check.id, 0.0, ())
        total = sum(m.odds for m in members)
        held = sum(m.odds for m in members if m.side == HELD)
        left = 0.0
        outlooks = []
        for i, answer in enumerate(check.answers):
            mass = sum(m.odds * chances[i] for m, chances in tables)
            held_mass = sum(m.odds * chances[i] for m, chances in tables if m.side == HELD)
            share = held_mass / mass if mass else 0.0
            outlooks.append(Outlook(answer.id, mass / total, share))
            left += mass / total * _entropy(share)
        value = max(0.0, _entropy(held / total) - left) / check.effort_min
        expected = None
        leading = next(((m, c) for m, c in tables if m.side == FREE), None)
        if leading is not None:
            best = max(range(len(check.answers)), key=lambda i: leading[1][i])
            expected = check.answers[best].id
        return Advice(check.id, value, tuple(outlooks), expected)

    def _margin(self, check: Check, answer_id: str) -> int | None:
        """G - F with that answer believed as a claim among the others; None: not proved."""
        answer = next(a for a in check.answers if a.id == answer_id)
        asked = self._asked(check, answer)
        search = Search(
            self.oracle, Exchange(self.model, pinned_causes=asked, chances=False), self.search.pool
        )
        base = (search.weak | self.unasked) & ~asked
        nodes = max(100, int(self.settings.seconds * 200))
        try:
            free = search.least([FREE], nodes, base)
            held = search.least(search.sides_of_held(), nodes, base)
        except Stopped:
            return None
        if free is None or held is None or max(free[0], held[0]) >= UNASKED_COST:
            return None
        return held[0] - free[0]


_UNASKED = "not asked"


def _is_over(horizon: Horizon) -> bool:
    """Whether the time of the whole answer is up: what is not worked out then is promised to nobody."""
    return horizon.limit is not None and horizon.limit.over()


def _none_raises(margins: dict[tuple[object, ...], int | None], horizon: Horizon) -> bool:
    """Whether it is still open which check would raise the margin, and more may be worked out."""
    above = horizon.above
    if above is None or len(margins) >= horizon.most:
        return False
    return all(margin is None or margin <= above for margin in margins.values())


def _unasked(check: Check, answer: Answer) -> str:
    return f"{_UNASKED}: {check.id}: {answer.id}"


def _with_answers(claims: ClaimSet, checks: list[Check]) -> ClaimSet:
    """The claim set with every answer's claims in it, each excused as long as it is not asked."""
    causes = {c.id: c for c in claims.causes}
    added = []
    for check in checks:
        for answer in check.answers:
            own = Cause(_unasked(check, answer), _UNASKED, UNASKED_COST, 0.5)
            causes[own.id] = own
            for cause in answer.causes:
                causes.setdefault(cause.id, cause)
            for claim in answer.claims:
                name = f"{own.id}: {claim.id}"
                added.append(
                    Claim(name, claim.kind, claim.terms, claim.sense, claim.bound, (*claim.causes, own.id))
                )
    return ClaimSet(claims.unknowns, tuple(causes.values()), (*claims.claims, *added), claims.holders)


def _renamed(advice: Advice, check: Check) -> Advice:
    """Advice for a check that exchange turns into the one worked out: same numbers, its own names."""
    names = {o.answer: a.id for o, a in zip(advice.outlooks, check.answers, strict=False)}
    outlooks = tuple(Outlook(names[o.answer], o.chance, o.held_chance) for o in advice.outlooks)
    free = names.get(advice.free_answer) if advice.free_answer is not None else None
    return Advice(check.id, advice.value, outlooks, free)


def _entropy(share: float) -> float:
    """Entropy of yes or no, in nats."""
    if not 0 < share < 1:
        return 0.0
    return -share * log(share) - (1 - share) * log(1 - share)
