"""What a next step says to type does, typed so, what the step promises."""

import pytest

from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind
from lastbolt.words.answer import Answer, NextStep

README = (
    "7 x M6x45\n2 x M8x70 far side\nend of list\nby Ann\n1-7 out, 8 out, 9 not seen\nwent round\n"
    "by Ben\ntray 7 x M6x45\n"
)
SCENES = {
    "a place not seen": README,
    "and counted since": README + "by Cy\n9 out\ntray 2 x M8x70\n",
    "glances": "7 x M6x45\nend of list\nby Ann\n1-7 out\n",
    "a break": "3 x nut M8\nend of list\nby Ann\n1-3 out\nwent round\n"
    "by Ben\ntray 3 x nut M8\nleft the bench\n",
    "inches": "by Lea\n4 x 1/4-20 x 1-1/2\nend of list\nby Ann\n1-4 out\nwent round\n",
    "named places": "by Lea\n3 x M6x20\nend of list\nby Ann\na1, a2, 7 out\nwent round\n",
}


def told(lines: str) -> Answer:
    gathered = read_typed(lines, typed_kind)
    assert not gathered.beside.unused, gathered.beside.unused
    return tally_joint(gathered.evidence, gathered.beside)


def typed(step: NextStep, listed: dict[str, int]) -> str:
    lines = "\n".join(step.to_type).replace("by NAME", "by Zoe")
    for size, count in listed.items():
        lines = lines.replace(f"tray N x {size}", f"tray {count} x {size}")
    return lines + "\n"


RODS = "by Lea\n3 x M6x20\nend of list\nby Ann\n1-3 out\nwent round\nby Ben\n1-3 out\nwent round\n"
SCENES["shanks left"] = RODS + "tray 3 x M6x20 heads only\n"
SCENES["one round, shanks left"] = SCENES["shanks left"].replace("by Ben\n1-3 out\nwent round", "by Ben")
SCENES["no list, one round"] = "by Ann\n1-3 out\nwent round\nby Ben\n1-3 open hole both sides\n"
SCENES["too many counted"] = RODS + "tray 4 x M6x20\n"
SCENES["a dowel"] = RODS.replace("1-3 out", "1-3 out, 4 dowel").replace("end of list\n", "")
LISTED = {"M6x45": 7, "M8x70": 2, "nut M8": 3, "1/4-20 x 1-1/2": 4, "M6x20": 3}


@pytest.mark.parametrize("scene", SCENES)
def test_every_step_says_what_to_type_and_keeps_its_promise(scene: str) -> None:
    answer = told(SCENES[scene])
    assert answer.next_steps
    for step in answer.next_steps:
        assert step.to_type, step.words
        after = told(SCENES[scene] + typed(step, LISTED))
        if step.margin_if_it_agrees is not None:
            assert after.margin == step.margin_if_it_agrees, step


@pytest.mark.parametrize("scene", SCENES)
def test_the_first_check_raises_the_margin_if_it_agrees_or_says_why_not(scene: str) -> None:
    answer = told(SCENES[scene])
    assert answer.margin is not None
    first = answer.next_steps[0]
    after = told(SCENES[scene] + typed(first, LISTED)).margin
    assert after is not None
    assert (after > answer.margin) == (not first.not_alone), first


def test_where_every_hole_is_as_doubtful_all_of_them_are_one_step() -> None:
    steps = told(SCENES["shanks left"]).next_steps
    (rods,) = [step for step in steps if step.to_type == ("by NAME", "1-3 light through")]
    assert (rods.margin_if_it_agrees, rods.effort_min) == (2, 3.0)
    assert (rods.check, rods.also) == ("rod 1", ("rod 2", "rod 3"))


def test_where_a_place_unlisted_is_as_doubtful_too_the_round_is_made_with_rods() -> None:
    first = told(SCENES["no list, one round"]).next_steps[0]
    assert first.to_type == ("by NAME", "1-3 light through", "went round")
    assert first.margin_if_it_agrees == 2


def test_a_dowel_among_the_holes_is_looked_at_from_both_ends() -> None:
    steps = told(SCENES["a dowel"]).next_steps
    typed_lines = [line for step in steps for line in step.to_type]
    assert "4 dowel both ends" in typed_lines


def test_doing_what_is_asked_leads_to_clear_to_part() -> None:
    lines = README
    for name in ("Cy", "Dee", "Eve", "Fay", "Gus", "Hal"):
        answer = told(lines)
        if answer.clear_to_part:
            break
        lines += typed(answer.next_steps[0], LISTED).replace("Zoe", name)
    assert told(lines).clear_to_part, lines
