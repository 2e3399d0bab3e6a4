"""References and conditions as they stand in sentences (forms of manuals, in our own words)."""

import pytest

from lastbolt.reading.conditions import conditions_in
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.pointers import pointers_in


def found(text: str) -> list[tuple[str, tuple[str, ...]]]:
    return [(p.form, p.targets) for p in pointers_in(lexicon().scan(text), lexicon())]


@pytest.mark.parametrize(
    ("text", "form", "targets"),
    [
        ("Remove the chain guard (see 4.2).", "section", ("4.2",)),
        ("Slacken the belt (refer to section 4.2).", "section", ("4.2",)),
        ("Drain the oil (page 53).", "page", ("53",)),
        ("Drain the oil (p. 4-12).", "page", ("4-12",)),
        ("See ENGINE REMOVAL.", "title", ("ENGINE REMOVAL",)),
        ("Take it off as described in chapter 4.", "section", ("4",)),
        ("Perform the preliminary steps of 4.2.", "section", ("4.2",)),
        ("See section 4B.", "section", ("4B",)),
        ("Flywheel removed (para 3-9).", "section", ("3-9",)),
        ("Install flywheel (3-9).", "section", ("3-9",)),
        ("See sections 4.2 and 4.3.", "section", ("4.2", "4.3")),
        ("Note the values: see the list in 7.1.", "section", ("7.1",)),
        ("See 423.", "section", ("423",)),
        ("See the operator's manual.", "book", ("the operator's manual",)),
        ("Refer to “Removing the pump”.", "title", ("Removing the pump",)),
        ("See Fig. 2-1.", "figure", ("2-1",)),
        ("Tighten as in table 8-1.", "table", ("8-1",)),
        (
            "Do not go on unless the carrier is loaded.",
            "demand",
            ("Do not go on unless the carrier is loaded",),
        ),
        ("The actuators must already be fitted.", "demand", ("The actuators must already be fitted",)),
        ("With the flywheel removed, pull the key.", "demand", ("With the flywheel removed",)),
    ],
)
def test_one_pointer(text, form, targets):
    assert found(text) == [(form, targets)]


def test_alternatives():
    (pointer,) = pointers_in(lexicon().scan("fuel tank removed (3-3) or (3-4)"), lexicon())
    assert pointer.targets == ("3-3", "3-4")
    assert pointer.any_of


@pytest.mark.parametrize(
    "text", ["following 4.2 steps 3 to 7", "steps 3 to 7 of section 4.2", "(4.2 steps 3 to 7)"]
)
def test_steps_narrow_the_section(text):
    (pointer,) = pointers_in(lexicon().scan(text), lexicon())
    assert (pointer.targets, pointer.from_step, pointer.to_step) == (("4.2",), "3", "7")


def test_reverse_with_exceptions():
    text = "Installation is the reverse of removal, except that the gasket is renewed."
    (pointer,) = pointers_in(lexicon().scan(text), lexicon())
    assert pointer.form == "reverse"
    assert pointer.exceptions == "except that the gasket is renewed"


@pytest.mark.parametrize(
    "text",
    [
        "See that the shaft turns freely.",
        "You should see the mark.",
        "It weighs 4.2 kg.",
        "Lift the engine on a stand.",
    ],
)
def test_no_pointer(text):
    assert found(text) == []


def test_a_figure_and_a_table_are_two():
    assert found("See Fig. 2-1 and table 8-2") == [("figure", ("2-1",)), ("table", ("8-2",))]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Only if the shaft is damaged, remove the pan.", "Only if the shaft is damaged"),
        ("Remove the pan if the shaft is damaged.", "if the shaft is damaged"),
        ("Remove it only when cold.", "only when cold"),
    ],
)
def test_condition_in_words(text, words):
    (condition,) = conditions_in(lexicon().scan(text), lexicon())
    assert condition.words == words


def test_when_inside_a_clause_is_a_time():
    assert conditions_in(lexicon().scan("Stop when the oil runs clear."), lexicon()) == []


@pytest.mark.parametrize(
    ("text", "variants", "first", "last"),
    [
        ("Models with electric start: remove the starter.", ("electric start",), None, None),
        ("On models without a clutch, remove the cover.", ("without a clutch",), None, None),
        ("Variant E only: disconnect the battery.", ("E",), None, None),
        ("Variant E Starter motor removed", ("E",), None, None),
        ("From serial no. 40 211 the cover has six screws.", (), 40211, None),
        ("Up to serial no. 40 210: remove the plate.", (), None, 40210),
        ("Engines with serial number 1500 and later", (), 1500, None),
        ("serial nos. 100 to 199", (), 100, 199),
    ],
)
def test_engines_singled_out(text, variants, first, last):
    (condition,) = conditions_in(lexicon().scan(text), lexicon())
    applies = condition.applies
    assert (applies.variants, applies.from_serial, applies.to_serial) == (variants, first, last)


def test_condition_for_some_steps():
    text = "For steps 6 to 9 only, when the shaft is damaged, remove oil pan (3-20)."
    (condition,) = conditions_in(lexicon().scan(text), lexicon())
    assert condition.steps == ("6", "9")


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("Repeat steps (1) and (2) for the other side.", "1", "2"),
        ("Repeat items 1) and 2) for each remaining cap.", "1", "2"),
        ("Repeat steps (a) to (c).", "a", "c"),
    ],
)
def test_steps_by_marks_in_brackets(text, first, last):
    (pointer,) = pointers_in(lexicon().scan(text), lexicon())
    assert (pointer.form, pointer.from_step, pointer.to_step) == ("steps", first, last)


@pytest.mark.parametrize(
    "text", ["Remove the screws (items 6, 10).", "Cut a sheet 2 mm thick.", "Sheet 1 of 2"]
)
def test_callouts_and_sheets_of_metal_are_no_pointers(text):
    assert found(text) == []
