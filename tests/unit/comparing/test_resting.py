"""The steps that rest on rows of tables, in books of many thousand rows."""

from time import perf_counter

from lastbolt.comparing.resting import Resting
from lastbolt.words.citation import Citation, PdfPlace, XmlPlace
from lastbolt.words.machine import Machine, Mention, Procedure, Reference, Section, Step


def at(page: int, top: float = 0.1) -> tuple[Citation, ...]:
    return (Citation("m", PdfPlace(page, None, (0.1, top, 0.9, top + 0.02))),)


def in_file(file: str, line: int) -> tuple[Citation, ...]:
    return (Citation("m", XmlPlace("", file, line)),)


def machine(*steps: Step, sections: tuple[Section, ...] = ()) -> Machine:
    procedure = Procedure("m/1", "1", "Work", steps=steps)
    return Machine("lastbolt.model/1", "x", sections=sections, procedures=(procedure,))


def test_the_last_section_that_begins_before_a_row_is_the_rows() -> None:
    to = (Reference("r", "as there", "see", "resolved", ("b",)),)
    sections = (
        Section("b", "4.2", "Torques", 2, citations=at(7, 0.2), text="Table 4–1: Torques"),
        Section("a", "4", "Data", 1, citations=at(7, 0.1)),
        Section("c", "4.3", "Oil", 2, citations=at(7, 0.8)),
    )
    steps = (
        Step("s1", "1", "Do.", references=to),
        Step("s2", "2", "See table 4 - 1."),
        Step("s3", "3", "No."),
    )
    resting = Resting(machine(*steps, sections=sections))
    assert [step.id for _, step in resting.on_table(at(7, 0.3))] == ["s1", "s2"]
    assert resting.on_table(at(7, 0.9)) == resting.on_table(at(6)) == resting.on_table(()) == ()


def test_a_row_of_a_module_is_of_a_section_in_its_own_file() -> None:
    to = (Reference("r", "as there", "see", "resolved", ("b",)),)
    sections = (
        Section("a", "", "One", 1, citations=in_file("a.xml", 3)),
        Section("b", "", "Two", 1, citations=in_file("b.xml", 9)),
    )
    resting = Resting(machine(Step("s1", "1", "Do.", references=to), sections=sections))
    assert [step.id for _, step in resting.on_table(in_file("b.xml", 12))] == ["s1"]
    assert resting.on_table(in_file("a.xml", 12)) == ()
    assert resting.on_table(in_file("b.xml", 4)) == ()


def test_many_rows_and_steps_are_looked_up_and_not_gone_through() -> None:
    """Every row against every step and section would be 1.6 thousand million looks."""
    many = 40_000
    steps = [Step(f"s{n}", str(n), f"See table {n}-1.", mentions=(Mention("x", rows=(f"r{n}",)),))
             for n in range(many)]  # fmt: skip
    sections = [
        Section(f"c{n}", str(n), "T", 1, citations=at(n), text=f"Table {n}-1") for n in range(1, many)
    ]
    begun = perf_counter()
    resting = Resting(machine(*steps, sections=tuple(sections)))
    for n in range(1, many):
        assert resting.on_row(f"r{n}")[0][1].id == f"s{n}"
        assert resting.on_table(at(n, 0.5))[0][1].id == f"s{n}"
    assert perf_counter() - begun < 20
