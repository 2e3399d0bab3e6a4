"""How often each kind of mistake is taken to happen: assumed, and used for nothing but ranking.

No source gives these for a training shop. They order explanations of equal cost and weigh next checks; the
verdict counts causes and never reads them, and no screen or sheet shows them.
"""

ASSUMED_CHANCE: dict[str, float] = {
    "misprint": 0.01,
    "misreading": 0.01,
    "lineage": 0.005,
    "engine": 0.03,
    "engine file wrong": 0.02,
    "engine file out of date": 0.01,
    "wrongly tied": 0.03,
    "row left out": 0.02,
    "ticked, not done": 0.04,
    "done, not recorded": 0.05,
    "record not kept": 0.05,
    "recorded, not so": 0.02,
    "misjudged": 0.02,
    "rod misread": 0.02,
    "depth": 0.02,
    "glance": 0.3,
    "did not look": 0.02,
    "broken": 0.005,
    "changed since": 0.02,
    "taken out, not recorded": 0.05,
    "missed a place": 0.05,
    "miscount": 0.02,
    "heads only": 0.1,
    "tray": 0.02,
}
