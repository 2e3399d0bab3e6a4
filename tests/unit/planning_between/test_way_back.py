"""What comes off and how it goes back: real omissions, and the ways in which manuals do say it."""

import pytest
from small_book import (
    M8X20,
    M8X70,
    cited,
    lines_of,
    machine,
    names,
    proc,
    reverse_of,
    row,
    step,
)

from lastbolt.planning.way_back import way_back
from lastbolt.words.machine import Machine, Procedure, Section
from lastbolt.words.plan import Return, WayBack
from lastbolt.words.quantity import Kind


def back(made: Machine, *numbers: str) -> tuple[WayBack, list[str]]:
    found, problems = way_back(lines_of(made, *numbers), made)
    return found, [problem.code for problem in problems]


def returns(made: Machine, *numbers: str) -> dict[str, Return]:
    return {item.part: item for item in back(made, *numbers)[0].returns}


def duct(*steps: object) -> Procedure:
    made = steps or (step("1", "Remove the screws and the air duct.", names("air duct")),)
    return proc("4.3", "Removing the air duct", "remove", "air duct", *made)  # type: ignore[arg-type]


GUARD = proc(
    "3.1", "Removing the chain guard", "remove", "chain guard",
    step("1", "Remove the four screws (4).", names("screws", count=4, kind=M8X20)),
    step("2", "Take the chain guard off.", names("chain guard")),
    step("3", "Take out the spacer.", names("spacer")),
)  # fmt: skip


def test_a_section_that_nothing_puts_back_is_told_once_with_its_page() -> None:
    found, problems = way_back(lines_of(machine(duct()), "4.3"), machine(duct()))
    (problem,) = problems
    assert problem.code == "LB-W01"
    assert problem.grade == "doubt"
    assert "4.3 Removing the air duct" in problem.what
    assert problem.citations == cited("book", 1, "Removing the air duct")
    assert [(item.part, item.how) for item in found.returns] == [("air duct", "none")]


def test_it_is_told_although_no_step_names_the_part() -> None:
    made = machine(duct(step("1", "Turn it a quarter turn and draw it out.", deeds=("other",))))
    assert back(made, "4.3")[1] == ["LB-W01"]


def test_one_part_that_the_installation_forgets_is_told_with_its_step() -> None:
    install = proc(
        "3.2", "Installing the chain guard", "install", "chain guard",
        step("1", "Fit the guard with the four screws.", names("guard", "install")),
    )  # fmt: skip
    made = machine(GUARD, install)
    found, problems = way_back(lines_of(made, "3.1"), made)
    assert [problem.code for problem in problems] == ["LB-W01"]
    assert "3.1 step 3 removes spacer" in problems[0].what
    assert returns(made, "3.1")["chain guard"].how == "procedure"
    assert found.procedures == ("book/procedure/3.2",)


def test_a_section_of_its_own_puts_it_back() -> None:
    made = machine(duct(), proc("4.4", "Installing the air duct", "install", "air duct"))
    found, codes = back(made, "4.3")
    assert codes == []
    assert [(item.how, item.on_by) for item in found.returns] == [("procedure", ("book/procedure/4.4",))]


SAID_ELSEWHERE = {
    "a step of another chapter": proc(
        "9.2", "Closing the case", "join", "case",
        step("4", "Fit the air duct.", names("air duct", "install")),
    ),
    "under a fuller name": proc(
        "9.2", "Closing the case", "join", "case",
        step("4", "Fit the cooling air duct.", names("cooling air duct", "install")),
    ),
    "as the list writes it": proc(
        "9.2", "Closing the case", "join", "case", step("4", "Fit it.", names("Duct, air", "install"))
    ),
    "under a shorter name that nothing else bears": proc(
        "9.2", "Installing the duct", "install", "duct", step("1", "Fit the duct.", names("duct", "install"))
    ),
    "in words that name no part": proc(
        "9.2", "Closing the case", "join", "case",
        step("4", "The air duct now goes back into its place.", deeds=("other",)),
    ),
    "in the text of a section without steps": Section(
        "book/section/4.5", "4.5", "Installing the air duct", 2, text="It goes in as it came out."
    ),
    "in a sentence behind the title": proc(
        "9.3", "Closing up", "other", "", text="The air duct is refitted in the reverse order."
    ),
    "as the reverse of removal": proc(
        "4.4", "Installation", "install", "",
        step("1", "Installation is the reverse of removal.", references=reverse_of("4.3"), deeds=("other",)),
    ),
}  # fmt: skip


@pytest.mark.parametrize("other", SAID_ELSEWHERE.values(), ids=SAID_ELSEWHERE)
def test_a_way_back_is_found_wherever_it_is_said(other: Procedure | Section) -> None:
    assert "LB-W01" not in back(machine(duct(), other), "4.3")[1]


def test_another_part_of_the_same_noun_is_no_way_back() -> None:
    """The oil duct is not the air duct; the pump bracket's screws do not put the guard's spacer back."""
    other = proc(
        "9.2", "Installing the oil duct", "install", "oil duct",
        step("1", "Fit the oil duct.", names("oil duct", "install")),
    )  # fmt: skip
    assert back(machine(duct(), other), "4.3")[1] == ["LB-W01"]


def test_a_short_name_elsewhere_that_fits_two_parts_is_no_way_back() -> None:
    oil = proc("5.1", "Removing the oil duct", "remove", "oil duct", step("1", "Remove.", names("oil duct")))
    fit = proc("9.2", "Installing the duct", "install", "", step("1", "Fit.", names("duct", "install")))
    assert back(machine(duct(), oil, fit), "4.3")[1] == ["LB-W01"]


def test_the_reverse_of_removal_carries_its_exceptions() -> None:
    words = "Installation is the reverse of removal, except that the spacer stays out until the engine runs."
    made = machine(
        GUARD,
        proc(
            "3.2", "Installing the chain guard", "install", "chain guard",
            step("1", words, references=reverse_of("3.1", words), deeds=("other",)),
        ),
    )  # fmt: skip
    spacer = returns(made, "3.1")["spacer"]
    assert spacer.exceptions == ("the spacer stays out until the engine runs.",)
    assert back(made, "3.1")[1] == []


def test_removal_and_installation_in_one_section() -> None:
    both = proc(
        "3.1", "Chain guard", "remove", "chain guard",
        step("1", "Remove the guard and the spacer.", names("guard"), names("spacer")),
        step("2", "Installation is the reverse.", references=reverse_of(""), deeds=("other",)),
    )  # fmt: skip
    found, codes = back(machine(both), "3.1")
    assert codes == []
    assert {item.how for item in found.returns} == {"reverse of removal"}


NOT_PARTS = {
    "fasteners of the part": step("2", "Remove the six screws.", names("screws", count=6, kind=M8X20)),
    "fastener and part in one step": step(
        "2", "Remove the bracket screw and the guard.",
        names("bracket screw", count=1, kind=M8X70), names("chain guard"),
    ),
    "washers with their screws": step(
        "2", "Remove the screws with their washers.",
        names("screws", count=4, kind=M8X20), names("spring washers"),
    ),
    "oil": step("2", "Remove the old oil.", names("old oil")),
    "rust and paint": step("2", "Remove paint and rust from the seat.", names("paint"), names("rust")),
    "sealant": step("2", "Remove all remains of sealant.", names("sealant")),
    "a gasket that is thrown away": step(
        "2", "Take off the paper joint and throw it away.", names("paper joint"), renew=("paper joint",)
    ),
}  # fmt: skip


@pytest.mark.parametrize("extra", NOT_PARTS.values(), ids=NOT_PARTS)
def test_what_needs_no_way_back_of_its_own_is_not_told(extra: object) -> None:
    off = proc(
        "3.1", "Removing the chain guard", "remove", "chain guard",
        step("1", "Take the chain guard off.", names("chain guard")), extra,  # type: ignore[arg-type]
    )  # fmt: skip
    on = proc("3.2", "Installing the chain guard", "install", "chain guard")
    assert back(machine(off, on), "3.1")[1] == []


def test_tools_and_what_was_put_in_before_are_not_parts() -> None:
    off = proc(
        "5.3", "Removing the coupling", "remove", "coupling",
        step("1", "Push the locking pin T-04 in.", names("locking pin", "other", kind=Kind("pin"))),
        step("2", "Screw in two guide bolts.", names("guide bolts", "other", count=2, kind=Kind("bolt"))),
        step("3", "Pull the coupling off.", names("coupling")),
        step("4", "Take the locking pin T-04 out.", names("locking pin", kind=Kind("pin"))),
        step("5", "Remove the guide bolts and the puller.", names("guide bolts"), names("puller")),
        tools=("T-04; socket 36 mm",),
    )  # fmt: skip
    on = proc("5.4", "Installing the coupling", "install", "coupling")
    found, codes = back(machine(off, on), "5.3")
    assert codes == []
    assert [item.part for item in found.returns] == ["coupling"]


def test_a_named_nut_of_its_own_is_asked_for() -> None:
    off = proc(
        "5.3", "Removing the coupling", "remove", "coupling",
        step("1", "Unscrew the shaft nut.", names("output shaft nut", count=1, kind=Kind("nut", "M24"))),
        step("2", "Pull the coupling off.", names("coupling")),
    )  # fmt: skip
    told = proc(
        "5.4", "Installing the coupling", "install", "coupling",
        step("1", "Push the coupling on and fit the nut.", deeds=("install",)),
    )  # fmt: skip
    forgets = proc("5.4", "Installing the coupling", "install", "coupling", step("1", "Push it on."))
    assert back(machine(off, told), "5.3")[1] == []
    assert back(machine(off, forgets), "5.3")[1] == ["LB-W01"]


def test_a_subassembly_goes_back_whole() -> None:
    """The lever comes off with the pump; the pump's own section puts both back."""
    off = proc(
        "7.2", "Removing the hand pump", "remove", "hand pump",
        step("1", "Remove the hand pump with its lever.", names("hand pump")),
        step("2", "Lift the lever off.", names("lever")),
    )  # fmt: skip
    on = proc(
        "7.3", "Installing the hand pump", "install", "hand pump",
        step("1", "Assemble pump and lever, and fit them.", names("pump", "install")),
    )  # fmt: skip
    assert back(machine(off, on), "7.2")[1] == []


def test_oil_drained_and_filled() -> None:
    drain = proc(
        "2.4", "Draining the gearbox oil", "drain", "gearbox oil",
        step("1", "Take out the drain plug.", names("drain plug")),
    )  # fmt: skip
    fill = proc(
        "2.5", "Filling the gearbox", "fill", "gearbox",
        step("1", "Fit the drain plug with a new ring.", names("drain plug", "install"), renew=("ring",)),
    )  # fmt: skip
    found, codes = back(machine(drain, fill), "2.4")
    assert codes == []
    assert [part.part for part in found.new_parts] == ["ring"]


def test_pieces_that_only_a_side_tells_apart() -> None:
    """The negative lead comes off first and the positive goes on first: both go back."""
    off = proc(
        "2.1", "Making safe", "other", "",
        step("1", "Disconnect the battery, the negative lead first.",
             names("battery"), names("negative lead")),
    )  # fmt: skip
    on = proc(
        "8.6", "First start", "other", "",
        step("1", "Connect the positive lead first.",
             names("positive lead", "install"), names("battery", "install")),
    )  # fmt: skip
    assert back(machine(off, on), "2.1")[1] == []


def test_only_some_steps_of_a_section_leave_its_part_on() -> None:
    made = machine(GUARD)
    some = lines_of(made, "3.1")[:2]
    assert way_back(some, made)[1] == ()
    with_section = machine(GUARD, proc("3.2", "Installing the chain guard", "install", "chain guard"))
    assert way_back(some, with_section)[0].returns == ()


def test_what_an_installation_takes_off_for_a_while_is_no_removal() -> None:
    on = proc(
        "6.5", "Joining the case", "join", "case",
        step("1", "Remove the transport cap.", names("transport cap")),
    )  # fmt: skip
    assert back(machine(on), "6.5") == (WayBack(), [])


def test_the_sections_of_the_way_back_stand_in_an_order_that_can_be_done() -> None:
    """The book tells the guard in chapter 3 and the case in 6; the case names the guard as follow-on."""
    made = machine(
        GUARD,
        proc(
            "3.2", "Installing the chain guard", "install", "chain guard", step("1", "Fit guard and spacer.")
        ),
        proc("6.4", "Separating the case", "separate", "case", step("1", "Draw the case apart.")),
        proc("6.5", "Joining the case", "join", "case", step("1", "Join the case."), after=("3.2",)),
    )
    found, codes = back(made, "3.1", "6.4")
    assert codes == []
    assert found.procedures == ("book/procedure/6.5", "book/procedure/3.2")


def test_an_installation_whose_part_nobody_takes_off_is_a_note() -> None:
    made = machine(
        GUARD,
        proc("3.2", "Installing the chain guard", "install", "chain guard",
             step("1", "Fit guard and spacer."), after=("3.9",)),
        proc("3.9", "Installing the mud flap", "install", "mud flap", step("1", "Fit the mud flap.")),
    )  # fmt: skip
    _, problems = way_back(lines_of(made, "3.1"), made)
    (problem,) = problems
    assert (problem.code, problem.grade) == ("LB-W02", "note")
    assert "mud flap" in problem.what


@pytest.mark.parametrize(
    "off",
    [
        proc("3.8", "Removing the mud flap", "remove", "mud flap"),
        proc("3.8", "Removing the wheel", "remove", "wheel", step("1", "Remove flap.", names("mud flap"))),
        proc("3.8", "Mud flap: removal", "remove", "flap"),
    ],
)
def test_an_installation_whose_part_comes_off_somewhere_is_silent(off: Procedure) -> None:
    made = machine(
        GUARD, off,
        proc("3.2", "Installing the chain guard", "install", "chain guard",
             step("1", "Fit guard and spacer."), after=("3.9",)),
        proc("3.9", "Installing the mud flap", "install", "mud flap", step("1", "Fit the mud flap.")),
    )  # fmt: skip
    assert back(made, "3.1")[1] == []


def test_new_parts_are_tied_to_the_one_row_that_fits() -> None:
    off = proc(
        "6.2", "Removing the inspection cover", "remove", "inspection cover",
        step("1", "Take off the inspection cover.", names("inspection cover")),
        step("2", "Throw the gasket away.", names("gasket"), renew=("gasket",)),
    )  # fmt: skip
    on = proc("6.3", "Installing the inspection cover", "install", "inspection cover",
              step("1", "Use a new sealing washer.", renew=("sealing washer",)))  # fmt: skip
    made = machine(
        off, on,
        row("6/3", "Gasket, case", number="W-603", renew=True),
        row("6/12", "Gasket, inspection cover", number="W-612", renew=True),
        row("6/10", "Washer, sealing, 8", number="W-610", renew=True),
        row("7/1", "Washer, tab, pinion", number="W-701", renew=True),
    )  # fmt: skip
    found, codes = back(made, "6.2")
    assert codes == []
    assert [(part.part, part.part_numbers) for part in found.new_parts] == [
        ("inspection cover gasket", ("W-612",)),
        ("sealing washer 8", ("W-610",)),
    ]


def test_the_step_says_which_of_two_like_parts_is_new() -> None:
    """The title names the shafts too; the step names the pinion."""
    off = proc(
        "6.6", "Removing gears and shafts", "remove", "gears",
        step("2", "Bend back the tab washer of the pinion and throw it away.", renew=("tab washer",)),
    )  # fmt: skip
    made = machine(
        off,
        row("7/5", "Washer, tab, pinion", number="W-705", renew=True),
        row("9/6", "Washer, tab, output shaft", number="W-506", renew=True),
    )
    (part,) = back(made, "6.6")[0].new_parts
    assert part.part_numbers == ("W-705",)


def test_a_new_part_that_fits_two_rows_names_none() -> None:
    off = proc(
        "2.2",
        "Changing the oil",
        "other",
        "",
        step("1", "Throw the sealing ring away.", renew=("sealing ring",)),
    )
    made = machine(
        off,
        row("6/15", "Ring, sealing, 18", number="W-615", renew=True),
        row("11/7", "Ring, sealing, 14", number="W-927", renew=True),
    )
    (part,) = back(made, "2.2")[0].new_parts
    assert (part.part, part.part_numbers) == ("sealing ring", ())
