"""Ways back as sources tell them in passing, and steps that are no way back although they name the part."""

from msgspec.structs import replace
from small_book import M8X20, M8X70, lines_of, machine, names, proc, step

from lastbolt.planning.told_back import with_ways_back
from lastbolt.planning.way_back import way_back
from lastbolt.words.machine import Machine, Reference
from lastbolt.words.plan import Return


def returns(made: Machine, *numbers: str) -> dict[str, Return]:
    full = with_ways_back(made)
    return {item.part: item for item in way_back(lines_of(full, *numbers), full)[0].returns}


FLANGE = proc(
    "3.2", "Removing the drum flange", "remove", "drum flange",
    step("1", "Draw the drum flange off.", names("drum flange")),
    step("2", "Take the key out of the shaft.", names("key")),
)  # fmt: skip
CASE = proc(
    "3.4", "Parting the gear case", "separate", "gear case",
    step("1", "Remove the ten screws.", names("screws", count=10, kind=M8X20)),
    step("2", "Draw the cover off.", names("cover")),
)  # fmt: skip


def test_putting_together_puts_together() -> None:
    on = proc("4.1", "Putting the gear case together", "other", "gear case together",
              step("1", "Push the cover on.", names("cover", "install")))  # fmt: skip
    found = returns(machine(CASE, on), "3.4")
    assert {part: item.how for part, item in found.items()} == {"cover": "step", "gear case": "procedure"}


def test_another_section_in_reverse_order_puts_its_parts_back() -> None:
    words = "Install the drum flange; see 3.2 in reverse order."
    both = (
        Reference("r1", words, "before", "resolved", ("book/procedure/3.2",)),
        Reference("r2", words, "reverse of", "resolved", ("book/procedure/4.1",)),
    )
    on = proc("4.1", "Putting the gear case together", "other", "",
              step("4", words, names("drum flange", "install"), references=both))  # fmt: skip
    made = with_ways_back(machine(FLANGE, on))
    references = made.procedures[1].steps[0].references
    assert [(one.role, one.to) for one in references] == [("reverse of", ("book/procedure/3.2",))]
    assert {item.how for item in returns(machine(FLANGE, on), "3.2").values()} == {
        "step",
        "reverse of removal",
    }


def test_the_step_that_takes_a_part_off_is_not_its_way_back() -> None:
    safe = proc("1.3", "Making the winch safe", "other", "",
                step("1", "Lower the hook and take the rope off the drum.", names("hook", "install"),
                     names("rope")))  # fmt: skip
    assert returns(machine(safe), "1.3")["rope"].how == "none"


def test_the_cover_of_another_section_is_another_cover() -> None:
    brake = proc("2.2", "Removing the brake cover", "remove", "brake cover",
                 step("2", "Remove the brake cover.", names("brake cover")))  # fmt: skip
    on = proc("4.1", "Putting the gear case together", "other", "",
              step("2", "Put the cover on by hand.", names("cover", "install")))  # fmt: skip
    made = machine(brake, CASE, on)
    assert returns(made, "2.2", "3.4")["brake cover"].how == "none"
    assert returns(made, "2.2", "3.4")["cover"].how == "step"


def test_a_step_that_forbids_the_screws_is_not_their_way_back() -> None:
    off = proc("6.4", "Separating the gear case", "separate", "gear case",
               step("1", "Remove the case screws.", names("case screws", count=10, kind=M8X70)))  # fmt: skip
    on = proc(
        "6.5", "Joining the gear case", "join", "gear case",
        step("4", "Push the cover on by hand. Never draw it on with the screws.", names("cover", "install"),
             names("screws", "other")),
        step("6", "Put all screws in and turn them in by hand.", names("screws", "install")),
    )  # fmt: skip
    assert returns(machine(off, on), "6.4")["case screws"].on_by == ("book/step/6.5/6",)


def test_what_a_first_sentence_names_comes_off_in_its_own_section() -> None:
    belt = proc("1", "Taking off the belt", "remove", "belt", step("1", "Lift it off.", names("belt")))
    words = "First take off the belt."
    first = Reference("r", words, "before", "resolved", ("book/procedure/1",))
    lead = step("", words, names("belt"), references=(first,))
    goal = proc("2", "Opening the body", "loosen", "body", lead, step("1", "Lift the lid.", names("lid")))
    full = machine(belt, goal)
    found, problems = way_back(lines_of(full, "1", "2"), full)
    assert [item.part for item in found.returns] == ["belt", "lid"]
    assert len(problems) == 2


def test_a_part_that_comes_off_twice_is_told_once() -> None:
    off = proc("3.1", "Making ready", "other", "", step("1", "Take the key out.", names("key")),
               step("5", "Take the key out again.", names("key")))  # fmt: skip
    _, problems = way_back(lines_of(machine(off), "3.1"), machine(off))
    assert len(problems) == 1


def test_the_machine_is_left_alone_where_nothing_is_told_in_passing() -> None:
    made = machine(FLANGE, CASE)
    assert with_ways_back(made) is made
    assert with_ways_back(replace(made, name="other")).procedures == made.procedures


def test_the_housing_is_parted_and_the_whole_put_together() -> None:
    off = proc("3.4", "Parting the gearbox housing", "separate", "gearbox housing", step("1", "Pull."))
    on = proc("4.1", "Putting the gearbox together", "other", "", step("1", "Close it."))
    other = proc("4.2", "Putting the pump together", "other", "", step("1", "Close it."))
    found = returns(machine(off, on, other), "3.4")
    assert found["gearbox housing"].on_by == ("book/procedure/4.1",)
