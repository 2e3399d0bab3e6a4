"""The engine against visiting everything, on claim sets drawn by chance."""

from fractions import Fraction
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st
from visiting import minimal_explanations

from lastbolt.tally.exchange import Exchange
from lastbolt.tally.model import small_model
from lastbolt.tally.solve import solve
from lastbolt.words.claims import Account, Cause, Claim, ClaimSet, Settings, Unknown

ALL = Settings(groups=1000)


@st.composite
def claim_sets(draw: st.DrawFn) -> ClaimSet:
    """Few unknowns and causes; claims over them of any sense, some weak witnesses, some shared causes."""
    uppers = draw(st.lists(st.integers(0, 2), min_size=1, max_size=5))
    lowers = [draw(st.sampled_from([0, 0, 0, min(1, u), -1])) for u in uppers]
    unknowns = tuple(Unknown(f"v{i}", u, low) for i, (u, low) in enumerate(zip(uppers, lowers, strict=True)))
    count = draw(st.integers(0, 6))
    rates = st.sampled_from([0.01, 0.02, 0.3, 0.67])
    causes = tuple(
        Cause(f"k{i}", "k", draw(st.sampled_from([1, 1, 1, 0])), draw(rates)) for i in range(count)
    )
    names = [c.id for c in causes]
    claims = []
    for j in range(draw(st.integers(0, 7))):
        terms = draw(
            st.lists(st.tuples(st.sampled_from([u.id for u in unknowns]), st.integers(-2, 3)), max_size=4)
        )
        own = draw(st.lists(st.sampled_from(names), max_size=3, unique=True)) if names else []
        sense = draw(st.sampled_from(["=", "=", "<=", ">="]))
        claims.append(Claim(f"c{j}", "c", tuple(terms), sense, draw(st.integers(-1, 4)), tuple(own)))
    holders = tuple(u.id for u in unknowns if draw(st.booleans()))
    return ClaimSet(unknowns, causes, tuple(claims), holders)


def expanded(claims: ClaimSet, groups: tuple) -> list[frozenset[str]]:
    """Every explanation of the groups, each group opened by the engine's own exchanges."""
    exchange = Exchange(small_model(claims))
    names = [c.id for c in claims.causes]
    found = []
    for group in groups:
        mask = sum(1 << names.index(c) for c in group.first.causes)
        members = [m for m, _ in exchange.members(mask)]
        assert len(members) == len(set(members)) == group.alike
        found += [frozenset(n for i, n in enumerate(names) if m >> i & 1) for m in members]
    return found


def least_cost(claims: ClaimSet, explanations: list[frozenset[str]]) -> int | None:
    cost = {c.id: c.cost for c in claims.causes}
    return min((sum(cost[k] for k in e) for e in explanations), default=None)


@settings(max_examples=400, deadline=None)
@given(claim_sets())
def test_costs_and_complete_lists_agree_with_visiting_everything(claims: ClaimSet) -> None:
    found = solve(claims, ALL)
    assert found.proved
    assert not found.list_cut
    for held, groups, cost in ((False, found.free, found.free_cost), (True, found.held, found.held_cost)):
        truth = minimal_explanations(claims, held)
        assert cost == least_cost(claims, truth)
        mine = expanded(claims, groups)
        assert len(mine) == len(set(mine))
        assert set(mine) == set(truth)
        order = [(g.first.cost, round(g.first.weight, 6)) for g in groups]
        assert order == sorted(order)


@settings(max_examples=200, deadline=None)
@given(claim_sets())
def test_verdict_follows_the_rule_and_free_carries_a_certificate_that_adds_up(claims: ClaimSet) -> None:
    found = solve(claims, ALL)
    if found.margin is not None and not found.limits:
        expected = (
            "free"
            if found.margin >= 2 and found.free_cost <= 1
            else "held"
            if found.margin <= -1
            else "not shown"
        )
        assert found.verdict == expected
    if found.verdict == "free":
        adds_up(claims, found, 2)
    else:
        assert found.certificate is None


def adds_up(claims: ClaimSet, found: Account, least_margin: int) -> None:
    """Assert what docs/tally.md says of a certificate."""
    proof = found.certificate
    assert proof is not None
    cost = {c.id: c.cost for c in claims.causes}
    by_id = {c.id: c for c in claims.claims}
    bounds = {u.id: u for u in claims.unknowns}
    needed = least_margin + sum(cost[k] for k in proof.free_causes)
    named = [h for p in proof.proofs for h in p.holders]
    assert len(named) == len(set(named))
    assert (proof.exhaustive_up_to is None) == (set(named) == set(claims.holders))
    for p in proof.crossing:
        assert not set(p.holders) & set(named)
        assert proof.exhaustive_up_to == needed - 1
        assert not any(
            all(set(chosen) & set(k) for k in p.conflicts)
            for n in range(needed)
            for chosen in combinations(cost, n)
            if sum(cost[c] for c in chosen) < needed and all(cost[c] for c in chosen)
        )
    for p in proof.proofs:
        assert sum(map(len, p.conflicts)) == len({c for k in p.conflicts for c in k})
        worth = [min((cost[c] for c in k), default=needed) for k in p.conflicts]
        assert sum(worth) >= needed
    for p in (*proof.proofs, *proof.crossing):
        assert len(p.conflicts) == len(p.multipliers)
        assert all(cost[c] for k in p.conflicts for c in k)
        for conflict, rows in zip(p.conflicts, p.multipliers, strict=True):
            left: dict[str, Fraction] = {}
            right = Fraction(0)
            for row, numerator, denominator in rows:
                weight = Fraction(numerator, denominator)
                what, _, name = row.partition(":")
                if what == "claim":
                    claim = by_id[name]
                    assert set(claim.causes) <= set(conflict)
                    terms, bound, sense = claim.terms, claim.bound, claim.sense
                elif what == "held":
                    terms, bound, sense = tuple((h, 1) for h in p.holders), 1, ">="
                else:
                    terms = ((name, 1),)
                    bound = bounds[name].upper if what == "upper" else bounds[name].lower
                    sense = "<=" if what == "upper" else ">="
                assert sense == "=" or (weight >= 0) == (sense == "<=")
                right += weight * bound
                for u, a in terms:
                    left[u] = left.get(u, Fraction(0)) + weight * a
            assert not any(left.values())
            assert right < 0


def place(name: str) -> Claim:
    return Claim(f"room {name}", "room", ((f"in {name}", 1), (f"out {name}", 1)), "<=", 1)


def test_two_who_look_and_count_prove_it_by_conflicts_that_cross() -> None:
    """A's look, B's look and a count that rests on both: no two disjoint, no single mistake meets all."""
    causes = tuple(Cause(k, "person") for k in ("A", "B", "broken", "list"))
    claims = ClaimSet(
        (Unknown("in p", 1), Unknown("out p", 1)),
        causes,
        (
            place("p"),
            Claim("A saw", "look", (("out p", 1),), "=", 1, ("A", "broken")),
            Claim("B saw", "look", (("out p", 1),), "=", 1, ("B", "broken")),
            Claim("count", "tray", (("out p", 1),), ">=", 1, ("A", "B")),
        ),
        ("in p",),
    )
    found = solve(claims)
    assert (found.free_cost, found.held_cost, found.verdict) == (0, 2, "free")
    assert found.certificate is not None
    assert not found.certificate.proofs
    assert len(found.certificate.crossing[0].conflicts) == 3
    adds_up(claims, found, 2)


def test_a_cause_more_likely_than_not_puts_the_larger_set_first() -> None:
    causes = (Cause("p", "k", 1, 0.01), Cause("q", "k", 1, 0.01), Cause("w", "k", 0, 0.67))
    never = {"terms": (), "sense": "=", "bound": 1}
    claims = ClaimSet(
        (Unknown("v", 1),),
        causes,
        (Claim("a", "c", causes=("p", "q"), **never), Claim("b", "c", causes=("w", "p"), **never)),
        (),
    )
    assert [g.first.causes for g in solve(claims).free] == [("q", "w"), ("p",)]
