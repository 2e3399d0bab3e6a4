"""Putting lines and places together changes nothing: large joints answered with and without it."""

import sys
from pathlib import Path

import pytest

from lastbolt.tally import model
from lastbolt.tally.solve import solve
from lastbolt.words.claims import Account, Settings

sys.path.insert(0, str(Path(__file__).parents[3] / "bench"))
from tally_case import Size, big_case


def outline(account: Account) -> tuple[object, ...]:
    """Costs, verdict, and cost and weight of the first explanations; how they are grouped may differ."""
    lists = [
        [(g.first.cost, round(g.first.weight, 6)) for g in side for _ in range(g.alike)][:6]
        for side in (account.free, account.held)
    ]
    return account.free_cost, account.held_cost, account.verdict, account.limits, lists


@pytest.mark.parametrize("tied", [0.5, 1.0])
@pytest.mark.parametrize("mistakes", [0, 3])
def test_same_account_with_and_without_the_grid(
    monkeypatch: pytest.MonkeyPatch, mistakes: int, tied: float
) -> None:
    claims = big_case(Size(places=9, lines=8, kinds=2, steps=2, tied_share=tied, mistakes=mistakes, seed=4))
    small = model.small_model(claims)
    assert small.grids
    assert len(small.columns) < len(claims.unknowns) / 2
    with_grid = outline(solve(claims, Settings(groups=6)))
    monkeypatch.setattr(model, "MANY", 10**9)
    assert not model.small_model(claims).grids
    assert with_grid == outline(solve(claims, Settings(groups=6)))
