"""Scenes outside the model: each ends short of `free`, or is named in docs/tally.md, "What is not covered".

The scenes are the simulated shop's (tests/shop/outside.py); what happened in them no named mistake describes.
"""

from functools import cache
from pathlib import Path

import pytest

from lastbolt.app.tally_joint import tally_joint
from lastbolt.words.answer import Answer
from shop.outside import Outside, all_outside

SCENES = {scene.name: scene for scene in all_outside()}
NOT_COVERED = {
    "nut off but the stud still holds": "A nut off while its stud is seized in both halves",
    "a holder that no source names": "Holders that nobody lists",
    "the wrong joint walked": "The wrong joint looked at",
    "all papers are of another variant, and both rounds missed the same place": (
        "A place that nobody can find by going round"
    ),
}
"""Scenes of a held joint that still end `free`, and how the documentation says so."""


@cache
def answer_of(name: str) -> Answer:
    return tally_joint(SCENES[name].evidence)


@pytest.mark.parametrize("scene", SCENES.values(), ids=list(SCENES))
def test_a_held_joint_outside_the_model_ends_short_of_free_or_is_named_as_not_covered(scene: Outside) -> None:
    wrongly_free = scene.held and answer_of(scene.name).verdict == "free"
    assert wrongly_free == (scene.name in NOT_COVERED)


@pytest.mark.parametrize("scene", SCENES.values(), ids=list(SCENES))
def test_none_of_them_is_clear_to_part(scene: Outside) -> None:
    """The other holders of these joints were never settled, whatever the fasteners' verdict."""
    assert not answer_of(scene.name).clear_to_part


def test_a_joint_that_is_free_is_not_called_held() -> None:
    free = [scene.name for scene in SCENES.values() if not scene.held]
    assert free
    assert [name for name in free if answer_of(name).verdict == "held"] == []


@pytest.mark.parametrize("words", NOT_COVERED.values())
def test_the_documentation_says_what_is_not_covered(words: str) -> None:
    text = (Path(__file__).parents[2] / "docs/tally.md").read_text(encoding="utf-8")
    section = " ".join(text.partition("## What is not covered")[2].split())
    assert words in section
