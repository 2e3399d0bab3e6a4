"""Limits of wear, words of sections, consumables, tools, legends: each difference of two editions is told."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from lastbolt.cli.main import main
from lastbolt.comparing.editions import compare
from lastbolt.edge import documents
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import (
    Figure,
    LegendLine,
    ListedPart,
    Machine,
    Procedure,
    Reference,
    Section,
    Step,
    TorqueValue,
)
from lastbolt.words.measured import Limit, Span
from lastbolt.words.quantity import exactly
from lastbolt.words.supplies import Consumable, Tool


def at(page: int, words: str = "") -> tuple[Citation, ...]:
    return (Citation("m", PdfPlace(page, None, (0.1, 0.5, 0.9, 0.52)), words),)


def limit(low: float, what: str = "Brake disc, thickness") -> Limit:
    span = Span(low, None, "mm")
    return Limit(f"m/limit/{what}", what, "thickness", "Brake disc", Span(5, 5.2, "mm"), span, "at least",
                 words=f"{what} | 5 to 5.2 | min. {low:g} mm", citations=at(9))  # fmt: skip


def section(text: str, title: str = "Safety", number: str = "1.2") -> Section:
    return Section(f"m/section/{number}", number, title, 2, text=text, citations=at(1))


REST = Step("m/3/1", "1", "Measure as in 8.1.", references=(
    Reference("r", "as in 8.1", "see", "resolved", ("m/section/8.1",)),))  # fmt: skip
OLD = Machine(
    "lastbolt.model/1",
    "winch",
    sections=(
        section("Never start the drive by hand. Wear gloves."),
        Section("m/section/8.1", "8.1", "Limits", 2, None, "table", (Citation("m", PdfPlace(9)),)),
    ),
    procedures=(Procedure("m/3", "3", "Measuring", steps=(REST,), text="Let it cool.", tools=("gauge",)),),
    figures=(
        Figure("m/figure/2", "2", "Brake", "m", legend_lines=(LegendLine(("1",), "disc"),
               LegendLine(("2",), "screw M6 x 20", exactly(4), at(3)))),
    ),
    limits=(limit(4), limit(2, "Drum, wall")),
    consumables=(Consumable("c", "grease", "grease", Span(5, 5, "ml"), used_for="bearing", citations=at(4)),),
    tools=(Tool("t", "Puller", "T-7", "drum", citations=at(5)),),
)  # fmt: skip


def told(new: Machine) -> list[tuple[str, str, str, str, str]]:
    return [(one.kind, one.about, one.what, one.was, one.now) for one in compare(OLD, new).changes]


def test_the_same_facts_are_no_change() -> None:
    assert compare(OLD, OLD).changes == ()


def test_a_limit_of_wear_that_changed_is_told_with_the_steps_that_refer_to_its_table() -> None:
    new = replace(OLD, limits=(limit(2), OLD.limits[1]))
    (change,) = compare(OLD, new).changes
    assert (change.about, change.kind, change.what) == ("wear limit", "changed", "Brake disc, thickness")
    assert change.was == "standard 5 to 5.2 mm, limit at least 4 mm"
    assert change.now == "standard 5 to 5.2 mm, limit at least 2 mm"
    assert (change.was_at, change.steps, change.steps_called) == (at(9), ("m/3/1",), ("3 step 1",))


def test_a_side_or_a_remark_of_a_limit_that_changed_is_told() -> None:
    other = replace(OLD.limits[0], sense="at most", limit=Span(None, 4, "mm"))
    assert [one[:2] for one in told(replace(OLD, limits=(other, OLD.limits[1])))] == [
        ("changed", "wear limit")
    ]
    more = replace(OLD.limits[0], words="Brake disc, thickness | 5 to 5.2 | min. 4 mm | renew in pairs")
    ((_, _, _, _, now),) = told(replace(OLD, limits=(more, OLD.limits[1])))
    assert now.endswith("renew in pairs")


def test_limits_that_are_new_or_gone_are_told() -> None:
    assert [one[:3] for one in told(replace(OLD, limits=(OLD.limits[1],)))] == [
        ("gone", "wear limit", "Brake disc, thickness")
    ]
    assert [one[:3] for one in told(replace(OLD, limits=(*OLD.limits, limit(1, "Pawl, tooth"))))] == [
        ("new", "wear limit", "Pawl, tooth")
    ]


@pytest.mark.parametrize(
    ("text", "changes"),
    [
        (
            "Always isolate the drive first. Wear gloves.",
            [
                ("gone", "Never start the drive by hand.", ""),
                ("new", "", "Always isolate the drive first."),
            ],
        ),
        (
            "Wear gloves. Never start the drive by foot.",
            [("changed", "Never start the drive by hand.", "Never start the drive by foot.")],
        ),
        ("Wear gloves. Never start the drive by hand.", []),
        ("", [("gone", "Never start the drive by hand.", ""), ("gone", "Wear gloves.", "")]),
    ],
)
def test_each_sentence_of_a_section_on_safety_that_changed_is_told(
    text: str, changes: list[tuple[str, str, str]]
) -> None:
    found = told(replace(OLD, sections=(section(text), OLD.sections[1])))
    assert sorted((kind, was, now) for kind, _, _, was, now in found) == sorted(changes)
    assert {(about, what) for _, about, what, _, _ in found} <= {("text", "1.2 Safety")}


def test_a_section_of_words_that_is_new_or_under_another_number_is_paired_by_its_title() -> None:
    more = section("Keep children away.", "Surroundings", "1.3")
    assert told(replace(OLD, sections=(*OLD.sections, more))) == [
        ("new", "text", "1.3 Surroundings", "", "Keep children away.")
    ]
    moved = section(OLD.sections[0].text, number="2.1")
    assert told(replace(OLD, sections=(moved, OLD.sections[1]))) == []


def test_what_stands_before_the_first_step_and_its_tools_are_compared() -> None:
    (own,) = OLD.procedures
    new = replace(own, text="Let it cool for an hour.", tools=("gauge", "mirror"), materials=("cleaner",))
    assert told(replace(OLD, procedures=(new,))) == [
        ("changed", "text", "3 Measuring", "Let it cool.", "Let it cool for an hour."),
        ("new", "tool", "3 Measuring", "", "mirror"),
        ("new", "consumable", "3 Measuring", "", "cleaner"),
    ]


def test_consumables_tools_and_legends_are_compared() -> None:
    grease = replace(OLD.consumables[0], amount=Span(8, 8, "ml"))
    (figure,) = OLD.figures
    lines = (figure.legend_lines[0], replace(figure.legend_lines[1], quantity=exactly(5)))
    new = replace(
        OLD,
        consumables=(grease,),
        tools=(replace(OLD.tools[0], number="T-8"),),
        figures=(replace(figure, legend_lines=lines),),
    )
    assert told(new) == [
        ("changed", "consumable", "grease", "grease, 5 ml, for bearing", "grease, 8 ml, for bearing"),
        ("changed", "tool", "Puller", "Puller T-7, for drum", "Puller T-8, for drum"),
        ("changed", "legend", "figure 2, callout 2", "4 x screw M6 x 20", "5 x screw M6 x 20"),
    ]


def test_a_step_tells_its_limit_beside_its_torque_and_every_other_number() -> None:
    def machine(torque: float, worn: float, drops: int) -> Machine:
        words = f"Tighten to {torque:g} N·m, play min. {worn:g} mm, {drops} drops."
        value = TorqueValue((torque, torque), ((torque, torque, "N·m"),))
        one = Limit("l", "play", limit=Span(worn, None, "mm"), sense="at least", words=f"min. {worn:g} mm")
        one_step = Step("m/3/1", "1", words, torques=(value,), limits=(one,))
        return Machine("lastbolt.model/1", "x", procedures=(Procedure("m/3", "3", "P", steps=(one_step,)),))

    def about(new: Machine) -> list[str]:
        return [one.about for one in compare(machine(24, 4, 3), new).changes]

    assert about(machine(26, 4, 3)) == ["torque"]
    assert about(machine(26, 2, 3)) == ["torque", "wear limit"]
    assert about(machine(26, 4, 5)) == ["torque", "step"]


def test_a_row_of_a_table_of_steps_that_says_more_beside_is_told() -> None:
    (own,) = OLD.procedures
    new = replace(own, steps=(replace(REST, beside="two people"),))
    ((kind, about, _, was, now),) = told(replace(OLD, procedures=(new,)))
    assert (kind, about, was, now) == ("changed", "step", REST.words, f"{REST.words} two people")


def test_the_command_shows_them_and_ends_with_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    old, new = tmp_path / "old.json", tmp_path / "new.json"
    documents.save(old, OLD)
    sections = (section("Always isolate the drive. Wear gloves."), OLD.sections[1])
    documents.save(new, replace(OLD, limits=(limit(2), OLD.limits[1]), sections=sections))
    assert main(["changes", str(old), str(new)]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "was standard 5 to 5.2 mm, limit at least 4 mm" in said
    assert "now Always isolate the drive." in said
    assert "steps that refer to this table: 3 step 1" in said
    assert main(["changes", str(old), str(new), "--json"]) == 1
    assert len(json.loads(capsys.readouterr().out)["changes"]) == 3


def test_a_line_of_an_assembly_s_own_list() -> None:
    bare = ListedPart(
        "m/component/a/screw", "m", "m/section/a", "Head", "Screw M6 x 20", exactly(4), citations=at(2)
    )
    old, new = (
        Machine("lastbolt.model/1", "winch", components=(replace(bare, quantity=exactly(count)),))
        for count in (4, 6)
    )
    (change,) = compare(old, new).changes
    assert (change.about, change.what, change.was, change.now) == (
        "assembly's list", "Head, Screw M6 x 20", "4 x Screw M6 x 20", "6 x Screw M6 x 20",
    )  # fmt: skip
    assert change.now_at == at(2)
