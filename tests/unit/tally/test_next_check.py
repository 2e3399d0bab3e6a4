"""Advice on the next check: by hand on a small joint, and against solving anew on random claim sets."""

from math import log

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_against_visiting import claim_sets

from lastbolt.tally.next_check import Horizon, advise
from lastbolt.tally.solve import solve
from lastbolt.words.claims import Answer, Cause, Check, Claim, ClaimSet, Settings, Unknown


def look(place: int, saw_in: int, person: str) -> tuple[Claim, Cause]:
    cause = Cause(f"{person} misjudged {place}", "misjudged", 1, 0.1)
    claim = Claim(f"{person} {place}", "look", ((f"in{place}", 1),), "=", saw_in, (cause.id,))
    return claim, cause


def check(place: int) -> Check:
    answers = []
    for saw_in in (0, 1):
        claim, cause = look(place, saw_in, "B")
        answers.append(Answer("in" if saw_in else "out", (claim,), (cause,)))
    return Check(f"look at {place}", 2.0, tuple(answers))


def test_one_place_seen_out_by_hand() -> None:
    """A saw "out"; wrong one time in ten. Odds free : held = 1 : 1/9, so 0.9 and 0.1 before B looks."""
    claim, cause = look(1, 0, "A")
    claims = ClaimSet((Unknown("in1", 1),), (cause,), (claim,), ("in1",))
    (advice,) = advise(claims, solve(claims), [check(1)])
    by_answer = {o.answer: o for o in advice.outlooks}
    # P(out | free) = 1/(1 + 0.1) after sharing out the mistake, P(out | held) = 0.1/1.1.
    out = 0.9 / 1.1 + 0.1 * 0.1 / 1.1
    assert by_answer["out"].chance == pytest.approx(out)
    assert by_answer["out"].held_chance == pytest.approx(0.1 * 0.1 / 1.1 / out)
    assert by_answer["in"].held_chance == pytest.approx((0.1 / 1.1) / (0.1 / 1.1 + 0.9 * 0.1 / 1.1))

    def entropy(p: float) -> float:
        return -p * log(p) - (1 - p) * log(1 - p)

    after = out * entropy(by_answer["out"].held_chance) + (1 - out) * entropy(by_answer["in"].held_chance)
    assert advice.value == pytest.approx((entropy(0.1) - after) / 2.0)
    assert (advice.free_answer, advice.margin_if_free) == ("out", 2)


def test_the_doubtful_place_comes_first_and_like_places_are_worth_the_same() -> None:
    told = [look(p, 0, "A") for p in (1, 2, 3)] + [look(p, 0, "C") for p in (2, 3)]
    claims = ClaimSet(
        tuple(Unknown(f"in{p}", 1) for p in (1, 2, 3)),
        tuple(cause for _, cause in told),
        tuple(claim for claim, _ in told),
        ("in1", "in2", "in3"),
    )
    advice = advise(claims, solve(claims), [check(p) for p in (3, 2, 1)])
    assert [a.check for a in advice] == ["look at 1", "look at 3", "look at 2"]
    assert advice[1].value == advice[2].value < advice[0].value
    assert advice[0].margin_if_free == 2
    assert advice[1].margin_if_free == 1


@settings(max_examples=100, deadline=None)
@given(claim_sets(), st.data())
def test_margins_are_those_of_solving_with_the_answer_added(claims: ClaimSet, data: st.DataObject) -> None:
    names = [u.id for u in claims.unknowns]
    checks = []
    for n in range(2):
        unknown = data.draw(st.sampled_from(names))
        answers = []
        for bound in (0, 1):
            cause = Cause(f"slip {n} {bound}", "slip")
            claim = Claim(f"new {n} {bound}", "look", ((unknown, 1),), "=", bound, (cause.id,))
            answers.append(Answer(str(bound), (claim,), (cause,)))
        checks.append(Check(f"check {n}", 1.0, tuple(answers)))
    account = solve(claims, Settings(groups=20))
    for advice in advise(claims, account, checks, Settings(), Horizon(margins=9)):
        assert advice.value >= 0
        assert sum(o.chance for o in advice.outlooks) == pytest.approx(1)
        if advice.free_answer is None or not claims.holders:
            continue
        own = next(c for c in checks if c.id == advice.check)
        answer = next(a for a in own.answers if a.id == advice.free_answer)
        added = ClaimSet(
            claims.unknowns, claims.causes + answer.causes, claims.claims + answer.claims, claims.holders
        )
        assert advice.margin_if_free == solve(added).margin
