"""Where what really happened stands among the explanations of a held joint, in the made-up shop.

The tally orders explanations by cost, then by the log odds of its own assumed rates. Beside it, on the same
explanations, the best scorer of this form for this shop: it adds up one number per kind of mistake, and the
number is the log odds with which that kind really happens there, counted on other scenes of the same shop. It
knows what the tally cannot know. An explanation counts as true if it names nothing that did not happen;
those that tie share their places by chance. Left out are joints that could be held without any mistake: there
"no mistake" stands first for every scorer.
"""

import time
from collections import Counter
from itertools import groupby
from math import comb, log

from bench.bench_rate import Row, scenes
from bench.intervals import difference_words, share_words
from lastbolt.tally.build import build_claims
from lastbolt.tally.solve import Joint
from lastbolt.words import claims as words
from law.happened import true_causes
from shop import Scene, Settings

LISTED = words.Settings(groups=60, seconds=5.0)
HELD = Settings(held=True)
TAUGHT_ON, ASKED_FROM = 1_200, 500_000
MOST_MEMBERS = 200
Scored = list[tuple[tuple[float, ...], bool]]
"""For each explanation its score, least first, and whether it is true."""


def log_odds_of_kinds(number: int) -> dict[str, float]:
    """ln((1 - p) / p) for each kind of cause, p its share of happening among held joints of the shop."""
    there, happened = Counter[str](), Counter[str]()
    source = scenes(HELD)
    for scene in (next(source) for _ in range(number)):
        claims = build_claims(scene.evidence)
        true = true_causes(scene, claims)
        for cause in claims.causes:
            there[cause.kind] += 1
            happened[cause.kind] += cause.id in true and cause.cost > 0
    shares = {kind: (happened[kind] + 0.5) / (there[kind] + 1) for kind in there}
    return {kind: log((1 - share) / share) for kind, share in shares.items()}


def scored(scene: Scene, odds: dict[str, float]) -> tuple[Scored, Scored] | None:
    """The explanations of one held joint as the tally ranks them, and as the shop's own rates do.

    None if it could be held without any mistake.
    """
    claims = build_claims(scene.evidence)
    joint = Joint(claims, LISTED)
    causes = {cause.id: cause for cause in claims.causes}
    number = {cause.id: 1 << i for i, cause in enumerate(claims.causes)}
    true = sum(number[name] for name in true_causes(scene, claims))
    account = joint.account()
    if not account.held_cost:
        return None
    by_tally: Scored = []
    by_shop: Scored = []
    for group in account.held:
        own = group.first.causes
        mask = sum(number[name] for name in own)
        members = zip(range(MOST_MEMBERS), joint.search.exchange.members(mask), strict=False)
        is_true = any(not member & ~true for _, (member, _) in members)
        paid = [causes[name].kind for name in own if causes[name].cost]
        by_tally.append(((group.first.cost, round(group.first.weight, 9)), is_true))
        by_shop.append(((round(sum(odds[kind] for kind in paid), 9),), is_true))
    return by_tally, by_shop


def chance_within(listed: Scored, places: int) -> float:
    """How likely a true explanation is among the first so many, when ties are broken by chance."""
    left = places
    for _, block in groupby(sorted(listed), key=lambda pair: pair[0]):
        true = [is_true for _, is_true in block]
        if len(true) > left:
            return 1 - comb(len(true) - sum(true), left) / comb(len(true), left)
        if any(true):
            return 1.0
        left -= len(true)
        if not left:
            return 0.0
    return 0.0


def rows(seconds: float) -> list[Row]:
    """The rows of the table, in about so many seconds."""
    end = time.perf_counter() + seconds
    odds = log_odds_of_kinds(TAUGHT_ON)
    chances: dict[int, list[tuple[float, float]]] = {1: [], 3: []}
    listed = 0
    for scene in scenes(HELD, ASKED_FROM):
        if time.perf_counter() > end and chances[1]:
            break
        ranked = scored(scene, odds) if 1 <= len(scene.roots) <= 3 else None
        if ranked is None:
            continue
        by_tally, by_shop = ranked
        listed += any(is_true for _, is_true in by_tally)
        for places, pairs in chances.items():
            pairs.append((chance_within(by_tally, places), chance_within(by_shop, places)))
    found: list[Row] = []
    for places, words_ in ((1, "in first place"), (3, "among the first three")):
        pairs = chances[places]
        joints, tally, shop = len(pairs), sum(t for t, _ in pairs), sum(s for _, s in pairs)
        what = f"use: what really happened is {words_}, held joints with 1 to 3 mistakes"
        found.append((f"{what}: the tally", share_words(round(tally), joints), "%", ""))
        found.append((f"{what}: the shop's own rates", share_words(round(shop), joints), "%", ""))
        behind = difference_words([100 * (s - t) for t, s in pairs])
        found.append((f"{what}: the tally is behind by", behind, "points", "at most 1"))
    joints = len(chances[1])
    found.append(("use: what really happened is listed at all", share_words(listed, joints), "%", ""))
    return found
