"""Whatever stands in a section, in whatever order, stands in the model as well."""

import json
import random
import re
from typing import Any

import msgspec
import pytest

from lastbolt.words.machine import Machine
from paged import book

PARAGRAPHS = (
    "The blower must be off {}.", "Tools: spanner {}; puller", "Materials: grease {}", "Persons: 2 {}",
    "Time: 3 hours {}", "Models: {}, K", "References: sheet {} on the wall", "References: 4.2 {}",
    "NOTE: The nut is tight {}.", "WARNING: Hot {}. See 4.2.", "CAUTION", "Do not bend it {}.",
    "1. Undo the nut {}.", "2. Lift off the lever {}.", "3. Store it {} (see 4.3).", "a. Clean it {}.",
    "- Remove the pin {}.", "o Remove the ring {}.", "[1] Remove the clip {}.", "[2] Remove the cap {}.",
    "For steps 1 to 2 only, when {} is worn:", "For steps x to y only, when {} is worn.",
    "Beforehand: lid off {}; 4.2; see the maker's manual", "Then: fit the lid {} (4.2)",
    "Fig. 3 shows the lid {}.", "Table 4 gives the {}.", "Installation is the reverse of removal {}.",
    "The lid is heavy {}. DANGER! It falls.", "Remove the lid {} first.", "Condition: {}",
    "Needed: {}; lid off", "After completion: {}", "Close-up: lid on {} (4.2).",
    "Effectivity: from serial no. 100 {}", "Crew: {}",
    "Before any work carry out 4.2 {}.", "Steps 1 to 2 {} need two persons.", "Supplies: {}; oil",
    "See also 4.2 {}.", "Equipment condition", "Blower removed (4.2) {}", "Special tools", "Puller {}",
    "The following must be off {}:", "- Lid {}", "If the ring is worn {}, go to 4.2.", "Page 3 {}",
)  # fmt: skip


def words_of(machine: Machine) -> str:
    """All that the model says, without the citations, which quote the page."""
    said = json.loads(msgspec.json.encode((machine.procedures, machine.sections)))
    return json.dumps(_without_citations(said))


def _without_citations(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _without_citations(one) for key, one in value.items() if key != "citations"}
    return [_without_citations(one) for one in value] if isinstance(value, list) else value


@pytest.mark.parametrize("seed", range(40))
def test_every_paragraph_of_a_section_is_in_the_model(seed):
    chance = random.Random(seed)
    section = [chance.choice(PARAGRAPHS).format(f"alfa{n}") for n in range(chance.randint(1, 7))]
    said = words_of(book(*section))
    assert [mark for mark in re.findall(r"alfa\d", " ".join(section)) if mark not in said] == []
