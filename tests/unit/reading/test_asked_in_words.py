"""What a section asks for in words or in its title leads to the section that brings it about, or is told."""

from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.requirements import asked_in
from lastbolt.reading.steps import read_step
from lastbolt.reading.title_asks import asked_by, without_asks

ENGLISH = lexicon("english")


def test_what_must_not_be_there_must_be_taken_off():
    for words in ("The flywheel must not be in place.", "Work is not allowed with the flywheel fitted."):
        (asked,) = asked_in(words, (), ENGLISH)
        assert (asked.pointer.form, asked.deeds) == ("demand", ("remove",))


def test_what_must_not_be_used_again_asks_for_nothing():
    assert asked_in("Damaged seals must not be fitted.", (), ENGLISH) == []


def test_places_without_a_name_are_told():
    for words in (
        "The flywheel is removed as shown on the opposite page.",
        "First carry out the work described above.",
    ):
        found = read_step(words, ENGLISH, callouts_in_brackets=False).references
        assert [raw.pointer.form for raw in found] == ["elsewhere"]


def test_a_title_asks_in_brackets():
    asked = asked_by("Parting the gearbox (flywheel removed, 3.2)", ENGLISH)
    assert ("section", ("3.2",)) in [(one.pointer.form, one.pointer.targets) for one in asked]
    assert without_asks("Parting the gearbox (see 3.2 first)", ENGLISH) == "Parting the gearbox"


def test_other_brackets_of_titles_ask_for_nothing():
    for title in ("Starter motor (variant E)", "Oil cooler (from serial no. 200)", "Torques (N·m)"):
        assert (asked_by(title, ENGLISH), without_asks(title, ENGLISH)) == ([], title)
