"""When the time for an answer runs out, it says what was proved, and it is never free."""

from collections.abc import Callable

import pytest

from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import checked_account, next_steps
from lastbolt.app.typed_kind import typed_kind
from lastbolt.tally.build import build_claims
from lastbolt.tally.solve import Joint, solve
from lastbolt.tally.time_limit import TimeLimit
from lastbolt.words.claims import Settings
from lastbolt.words.evidence import Evidence

CLEAR = "3 x M6x45\nend of list\nby Ann\n1-3 out\nwent round\nby Ben\ntray 3 x M6x45\n"
SHANKS = CLEAR + "1-3 out\nwent round\nleft the bench\n"


def evidence(lines: str) -> Evidence:
    return read_typed(lines, typed_kind).evidence


def ticking() -> Callable[[], float]:
    """A clock that goes on by one second each time somebody looks at it."""
    now = iter(range(10**9))
    return lambda: float(next(now))


def test_time_is_up_when_the_clock_says_so() -> None:
    limit = TimeLimit(2.0, ticking())
    assert [limit.over(), limit.over(), limit.over()] == [False, True, True]


def test_no_time_at_all_is_an_answer_too() -> None:
    said = evidence(CLEAR)
    joint = Joint(build_claims(said), Settings(), TimeLimit(0.0))
    account, problems = checked_account(said, joint)
    assert (account.verdict, account.proved, account.certificate) == ("not shown", False, None)
    assert any("0 s allowed for all of it ran out" in limit for limit in account.limits)
    assert problems == ()
    assert next_steps(said, joint, account, account), "what to do next is said in any case"


@pytest.mark.parametrize("lines", [CLEAR, SHANKS])
def test_wherever_it_runs_out_nothing_false_is_said(lines: str) -> None:
    """The limit falls on one question after the other, until there is time for all of them."""
    said = evidence(lines)
    claims = build_claims(said)
    whole = solve(claims)
    cut = 0
    for seconds in range(1, 2000, 13):
        joint = Joint(claims, Settings(), TimeLimit(float(seconds), ticking()))
        account, _ = checked_account(said, joint)
        assert account.free_cost in (None, whole.free_cost)
        assert account.held_cost in (None, whole.held_cost)
        assert joint.search.reached <= max(whole.free_cost or 0, whole.held_cost or 0) + 2
        if not account.limits and (account.verdict, account.held) == (whole.verdict, whole.held):
            break
        cut += 1
        assert account.verdict == "not shown"
        assert account.certificate is None
    assert cut > 3, "the limit was met on the way"
    assert account.verdict == whole.verdict


def test_what_was_proved_on_the_way_is_said() -> None:
    said = evidence(CLEAR)
    claims = build_claims(said)
    told = set()
    for seconds in range(1, 60, 3):
        account = Joint(claims, Settings(), TimeLimit(float(seconds), ticking())).account()
        told |= {limit.rpartition("; ")[2] for limit in account.limits if limit.startswith("held: ")}
    assert "mistakes needed so far: at least 1, perhaps more" in told
