"""Before it comes off: what must be gathered, and what only sounds like it. Common practice, no source."""

import pytest
from small_book import M8X20, lines_of, machine, names, proc, reverse_of, row, step

from lastbolt.planning.before_off import before_off
from lastbolt.words.machine import Caution, Machine, Procedure
from lastbolt.words.quantity import Kind

SHAFT_NUT = Kind("nut", "M24")


def said(made: Machine, number: str = "5.3") -> list[tuple[str, str]]:
    return [(item.kind, item.words) for item in before_off(lines_of(made, number), made)]


def kinds(*steps: object, number: str = "5.3", deed: str = "remove") -> list[str]:
    part = proc(number, "Removing the coupling", deed, "coupling", *steps)  # type: ignore[arg-type]
    return [kind for kind, _ in said(machine(part), number)]


FOUND = {
    "left-hand thread": step(
        "3", "Unscrew the nut clockwise.", names("nut", kind=Kind("nut")), left_hand=True
    ),
    "lock to open": step("2", "Bend back the tab.", deeds=("other",), locks=("tab washer",)),
    "crack while held": step(
        "1", "Slacken the shaft nut.", names("output shaft nut", "loosen", kind=SHAFT_NUT)
    ),
    "drain": step("1", "Drain the water.", names("water", "drain")),
    "mark": step("1", "Mark the position of the cover.", names("position", "mark")),
    "stored energy": step("1", "Release the spring with the lever.", deeds=("other",)),
    "falls out": step("1", "Lift the lever; the ball may fall out.", names("lever")),
    "single use": step("1", "Throw the gasket away.", renew=("gasket",)),
}


@pytest.mark.parametrize("kind", FOUND)
def test_each_kind_is_gathered_from_the_step_that_says_it(kind: str) -> None:
    assert kinds(FOUND[kind]) == [kind]


def test_a_shaft_nut_taken_off_is_cracked_first() -> None:
    assert kinds(step("1", "Remove the flywheel nut.", names("flywheel nut", kind=SHAFT_NUT))) == [
        "crack while held"
    ]


def test_screws_loosened_half_a_turn_while_the_cover_is_still_held() -> None:
    words = "Loosen the four screws by half a turn."
    assert kinds(step("1", words, names("screws", "loosen", 4, M8X20))) == ["crack while held"]


NOTHING = {
    "a hose clamp": step("1", "Slacken the two clamps.", names("clamps", "loosen", 2)),
    "a hose clip": step("1", "Slacken the clips.", names("clips", "loosen", 2, Kind("clip"))),
    "a cock": step("1", "Open the drain cock.", names("drain cock", "loosen")),
    "screws simply taken out": step("1", "Remove the four screws.", names("screws", count=4, kind=M8X20)),
    "slackened and taken out at once": step(
        "1",
        "Slacken and remove the screws.",
        names("screws", "loosen", kind=M8X20),
        names("screws", kind=M8X20),
    ),
    "spring washers": step("1", "Disconnect the cable and keep the spring washers.", names("cable")),
    "a pressure switch": step("1", "Disconnect the oil pressure switch.", names("oil pressure switch")),
    "a pressure plate": step("1", "Release the pressure plate bolts evenly.", names("pressure plate")),
    "a bearing that falls out of a warm cover": step(
        "7", "Warm the cover and take the bearing out.", names("bearing", "drain")
    ),
    "a drive key seen": step("1", "Look at the key.", names("key", "check")),
}


@pytest.mark.parametrize("innocent", NOTHING.values(), ids=NOTHING)
def test_what_only_sounds_like_it_is_left_out(innocent: object) -> None:
    assert kinds(innocent) == []


def test_a_warning_of_energy_is_carried_with_its_own_place() -> None:
    warning = Caution("warning", "The spring is under tension and may fly out.")
    assert kinds(step("1", "Lift the lever.", names("lever"), cautions=(warning,))) == ["stored energy"]


def test_a_lock_is_told_where_it_is_opened_not_where_it_is_thrown_away() -> None:
    found = said(
        machine(
            proc(
                "5.3", "Removing the coupling", "remove", "coupling",
                step("2", "Bend back the tab of the tab washer.", deeds=("other",), locks=("tab washer",)),
                step("3", "Throw the tab washer away.", deeds=("other",), locks=("tab washer",)),
            )
        )
    )  # fmt: skip
    assert found == [("lock to open", "tab washer: Bend back the tab of the tab washer.")]


def test_two_locks_of_one_kind_are_both_told() -> None:
    found = kinds(
        step("2", "Bend back the tab at the pinion.", deeds=("other",), locks=("tab washer",)),
        step("5", "Bend back the tab at the shaft.", deeds=("other",), locks=("tab washer",)),
    )
    assert found == ["lock to open", "lock to open"]


def test_a_section_that_drains_is_told_by_its_title() -> None:
    made = machine(
        proc(
            "2.4", "Draining the gearbox oil", "drain", "gearbox oil",
            step("1", "Take out the drain plug.", names("drain plug")),
            step("2", "Let the oil drain for ten minutes.", deeds=("drain",)),
        )
    )  # fmt: skip
    assert said(made, "2.4") == [("drain", "Draining the gearbox oil")]


def test_an_installation_has_nothing_to_do_before_it_comes_off() -> None:
    assert kinds(step("1", "Tighten in stages.", names("screws", "tighten", 4, M8X20)), deed="install") == []
    assert kinds(step("1", "Mark the cover.", names("cover", "mark")), deed="install") == []


def case(tighten: object) -> tuple[Procedure, Procedure]:
    off = proc(
        "5.3", "Separating the case", "separate", "case",
        step("2", "Remove the case screws.", names("case screws", kind=Kind("screw"))),
    )  # fmt: skip
    return off, proc("5.4", "Joining the case", "join", "case", tighten)  # type: ignore[arg-type]


def test_screws_tightened_in_an_order_are_loosened_in_its_reverse() -> None:
    words = "Tighten to 12 N·m, then to 24 N·m, in the order 3, 1, 2, 4."
    ((kind, text),) = said(machine(*case(step("8", words, deeds=("tighten",)))))
    assert kind == "loosen in stages"
    assert text.startswith("case screws, in the reverse of the tightening order")
    assert "3, 1, 2, 4" in text


def test_the_reverse_of_removal_may_hold_the_order() -> None:
    words = "Installation is the reverse of removal. Tighten the six screws crosswise to 9 N·m."
    six = names("screws", "tighten", 6, Kind("screw"))
    made = machine(*case(step("1", words, six, deeds=("tighten",), references=reverse_of("5.3"))))
    assert [kind for kind, _ in said(made)] == ["loosen in stages"]


def test_an_order_of_other_screws_is_not_theirs() -> None:
    words = "Tighten the six bracket nuts crosswise."
    other = names("bracket nuts", "tighten", 6, Kind("nut", "M6"))
    assert said(machine(*case(step("8", words, other, deeds=("tighten",))))) == []


def test_an_order_is_not_told_where_none_is_given() -> None:
    assert said(machine(*case(step("8", "Tighten to 24 N·m.", deeds=("tighten",))))) == []


def test_what_the_figure_shows_behind_a_part_will_fall_out() -> None:
    off = proc(
        "5.3", "Removing the shift lever", "remove", "shift lever",
        step("1", "Lift the shift lever (1) out.", names("shift lever", row="8/1")),
    )  # fmt: skip
    rows = (row("8/1", "Lever, shift"), row("8/2", "Ball, detent, 6", 2), row("8/3", "Knob"))
    assert said(machine(off, *rows)) == [
        ("falls out", "2 x Ball, detent, 6, when lift the shift lever (1) out")
    ]


def test_what_a_step_of_the_section_takes_out_does_not_fall_out() -> None:
    off = proc(
        "5.3", "Removing the shift lever", "remove", "shift lever",
        step("1", "Lift the shift lever (1) out.", names("shift lever", row="8/1")),
        step("2", "Take the detent balls out.", names("detent balls")),
    )  # fmt: skip
    assert said(machine(off, row("8/1", "Lever, shift"), row("8/2", "Ball, detent, 6", 2))) == []


def test_nothing_is_told_of_what_is_done() -> None:
    made = machine(proc("5.3", "Removing the coupling", "remove", "coupling", FOUND["mark"]))
    from msgspec.structs import replace

    done = tuple(replace(line, state="done") for line in lines_of(made, "5.3"))
    assert before_off(done, made) == ()
