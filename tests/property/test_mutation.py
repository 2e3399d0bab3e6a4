"""Whatever is taken out of what the builder emits, some told scene must notice."""

import pytest
from mutants import Mutation, Told, killer, mutations
from told_scenes import TOLD

MUTATIONS = dict(mutations(TOLD))


@pytest.mark.parametrize("told", TOLD, ids=lambda told: told.name)
def test_builder_and_table_agree_before_anything_is_taken_out(told: Told) -> None:
    assert told.decisive


@pytest.mark.parametrize("mutation", MUTATIONS.items(), ids=MUTATIONS)
def test_a_scene_notices(mutation: tuple[str, Mutation]) -> None:
    assert killer(TOLD, mutation[1]) is not None
