"""Two places that state one thing: they agree, disagree, or cannot be compared; nothing is assumed."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from failure.made_pdf import typeset_pdf
from lastbolt.app.compare_sources import compare_sources
from lastbolt.cli.main import main
from lastbolt.cli.read import read_files
from lastbolt.words.citation import CellPlace, Citation
from lastbolt.words.compared import Compared, Finding
from lastbolt.words.machine import (
    MODEL_SCHEMA,
    Applies,
    ListedPart,
    Machine,
    Mention,
    PartsRow,
    Procedure,
    Source,
    Step,
    TorqueRow,
    TorqueValue,
)
from lastbolt.words.measured import Limit, Span
from lastbolt.words.quantity import UNSAID, Kind, Quantity, exactly

M6x20 = Kind("screw", "M6", 20.0)
M6 = Kind("nut", "M6")


def cite(source: str, line: int = 1) -> tuple[Citation, ...]:
    return (Citation(source, CellPlace(line), f"line {line}"),)


def step(mark: str, *mentions: Mention, words: str = "Fit it.", **more: object) -> Step:
    return Step(f"m/step/a/{mark}", mark, words, mentions=mentions, citations=cite("m", 40), **more)  # type: ignore[arg-type]


def put(count: int | None, kind: Kind | None = M6x20, name: str = "screws", sort: str = "exactly") -> Mention:
    quantity = UNSAID if count is None else Quantity(sort, count, count, words=str(count))  # type: ignore[arg-type]
    return Mention(name, "install", quantity, kind)


def listed(name: str, count: int, kind: Kind | None = M6x20, of: str = "a", variant: str = "") -> ListedPart:
    applies = Applies(variants=(variant,), words=variant) if variant else Applies()
    title = {"a": "Head", "b": "Foot"}[of]
    number = exactly(count, str(count))
    return ListedPart(f"m/component/{of}/{name}{variant}", "m", f"m/section/{of}", title, name, number, kind,
                      applies=applies, citations=cite("m", 5))  # fmt: skip


def row(name: str, count: int, kind: Kind | None = M6x20, source: str = "bill", **more: object) -> PartsRow:
    bare = PartsRow(f"{source}/row/-/{name}", source, "", "", "", name, exactly(count, str(count)), kind,
                    citations=cite(source, 7))  # fmt: skip
    return replace(bare, **more)


def procedure(of: str, title: str, *steps: Step) -> Procedure:
    return Procedure(f"m/procedure/{of}", "", title, "install", steps=steps)


def machine(**parts: object) -> Machine:
    sources = (Source("m", "Manual", "manual", "x"), Source("bill", "Bill", "parts list", "x"))
    return replace(Machine(MODEL_SCHEMA, "winch", sources=sources), **parts)


def compared(**parts: object) -> Compared:
    return compare_sources([machine(**parts)])


def the_one(found: Compared, **wanted: str) -> Finding:
    some = [f for f in found.findings if all(getattr(f, name) == value for name, value in wanted.items())]
    assert len(some) == 1, [(f.verdict, f.what, f.within) for f in found.findings]
    return some[0]


def said(finding: Finding) -> list[str]:
    return [side.says for side in finding.sides]


@pytest.mark.parametrize(
    ("steps", "verdict", "sum_"),
    [
        ((step("1", put(2)), step("2", put(2))), "agree", "2 + 2 = 4"),
        ((step("1", put(2)), step("2", put(2, sort="remaining"))), "agree", "2 + 2 = 4"),
        ((step("1", put(4)), step("2", put(2))), "disagree", "4 + 2 = 6"),
        ((step("1", put(2)),), "disagree", "2"),
        ((step("1", put(2)), step("2", put(None))), "not comparable", "2 + ? = 2 and more"),
        ((step("1", put(2), words="Repeat it for the other cap."),), "not comparable", "2 and more"),
        ((step("1", put(2)), step("2", put(2), condition="worn")), "not comparable", "2 and more"),
        ((step("1", put(6)), step("2", put(None))), "disagree", "6 + ? = 6 and more"),
        ((step("1", put(4)), step("2", replace(put(4), deed="tighten"))), "agree", "4"),
        ((step("1", put(None, None)),), "not comparable", "not named by this size"),
    ],
)
def test_a_list_and_its_steps(steps: tuple[Step, ...], verdict: str, sum_: str) -> None:
    found = compared(procedures=(procedure("a", "Head", *steps),), components=(listed("Screw M6 x 20", 4),))
    finding = the_one(found, within="Head")
    assert (finding.verdict, said(finding)) == (verdict, ["4", sum_])


def test_a_count_that_only_follows_is_proposed_and_not_taken() -> None:
    steps = step("1", put(4, None, "rollers"), put(None))
    found = compared(procedures=(procedure("a", "Head", steps),), components=(listed("Screw M6 x 20", 4),))
    finding = the_one(found, what="Screw M6 x 20")
    assert finding.verdict == "not comparable"
    assert "One for each would make 4; as the list says." in finding.why


def test_a_size_that_the_list_omits() -> None:
    steps = step("1", put(4), put(None, M6, "nuts"))
    found = compared(procedures=(procedure("a", "Head", steps),), components=(listed("Screw M6 x 20", 4),))
    finding = the_one(found, verdict="disagree")
    assert said(finding) == ["not in it", "used, no number"]


def two_assemblies(**parts: object) -> Compared:
    procedures = (
        procedure("a", "Head", step("1", put(4))),
        procedure("b", "Foot", step("1", put(2))),
        procedure("c", "Whole", step("1", put(3))),
    )
    components = (
        listed("Screw M6 x 20", 4),
        listed("Screw M6 x 20", 2, of="b"),
        listed("Head subassembly", 2, None, of="b"),
    )
    return compared(**{"procedures": procedures, "components": components, **parts})


@pytest.mark.parametrize(("count", "verdict"), [(13, "agree"), (12, "disagree"), (14, "disagree")])
def test_the_bill_beside_the_sum_of_the_assemblies(count: int, verdict: str) -> None:
    found = two_assemblies(rows=(row("Hex screw M6 x 20", count),))
    finding = the_one(found, what="Hex screw M6 x 20")
    assert (finding.verdict, said(finding)) == (verdict, [str(count), "2 x 4 + 2 + 3 = 13"])
    assert [term.times for term in finding.sides[1].terms] == [2, 1, 1]
    assert all(term.citations for term in finding.sides[1].terms)
    assert finding.sides[0].citations[0].title == "Bill"


def test_a_sum_on_a_list_that_its_steps_contradict_proves_nothing() -> None:
    steps = procedure("a", "Head", step("1", put(4)))
    found = compared(
        procedures=(steps,), components=(listed("Screw M6 x 20", 2),), rows=(row("Screw M6 x 20", 2),)
    )
    finding = the_one(found, within="", what="Screw M6 x 20")
    assert finding.verdict == "not comparable"
    assert "By the steps it would be 4." in finding.why


def test_variants_are_compared_each_by_itself() -> None:
    rows = tuple(
        row("Screw M6 x 20", n, applies=Applies(variants=(v,), words=v)) for n, v in ((4, "plain"), (8, "XL"))
    )
    components = tuple(listed("Screw M6 x 20", n, variant=v) for n, v in ((4, "short"), (6, "xl")))
    found = compared(rows=rows, components=components, procedures=(procedure("a", "Head", step("1")),))
    plain = the_one(found, engines='plain, taken for "short"')
    large = the_one(found, engines="XL")
    assert (plain.verdict, said(plain)) == ("agree", ["4", "4"])
    assert (large.verdict, said(large)) == ("disagree", ["8", "6"])


def test_alternatives_are_not_added() -> None:
    figure = {"figure": "3", "source": "ipl"}
    rows = (
        row("Screw", 4, part_number="K-1"),
        row("Screw M6 x 20", 4, item="1", part_number="K-1", **figure),
        row("Screw M6 x 20", 4, item="1", part_number="K-1", id="ipl/2", **figure),
        row("Screw M6 x 20", 2, item="2", part_number="K-1", id="ipl/3", remarks="or use K-9", **figure),
        row(
            "Screw M6 x 20",
            1,
            item="3",
            part_number="K-1",
            id="ipl/4",
            applies=Applies(variants=("XL",)),
            **figure,
        ),
    )
    finding = the_one(compared(rows=rows), what="Screw")
    assert (finding.verdict, said(finding)) == ("agree", ["4", "4"])
    assert [bool(term.left_out) for term in finding.sides[1].terms] == [False, True, True, True]


def test_one_part_under_two_names_is_proposed() -> None:
    steps = (procedure("a", "Head", step("1")),)
    components = (listed("Drive motor", 1, None), listed("Motor", 1, None), listed("Rubber foot", 2, None))
    found = compared(
        procedures=steps, components=components, rows=(row("Motor", 2, None), row("Washer", 4, None))
    )
    assert [(match.one.says, match.other.says) for match in found.matches] == [("Drive motor", "Motor")]
    assert "the counts fit (1 and 1 under its own name; 2)" in found.matches[0].why
    assert the_one(found, what="Motor").verdict == "not comparable", "nothing was added by the proposal"
    assert found.alone == ("Washer",)


def test_one_number_with_two_names_and_one_name_with_two_numbers() -> None:
    rows = (
        row("Cover", 1, None, part_number="K 10-1"),
        row("Guard, chain", 1, None, part_number="K-11"),
        row("Lid", 1, None, source="ipl", figure="1", item="1", part_number="K101"),
        row("Chain guard", 1, None, source="ipl", figure="1", item="2", part_number="K-12"),
    )
    whys = [match.why for match in compared(rows=rows).matches]
    assert whys == [
        "one part number, K 10-1, under two names",
        "one name with two part numbers, K-11 and K-12",
    ]


def torque(low: float, high: float, unit: str = "N·m", limit: str = "") -> TorqueValue:
    factor = {"N·m": 1.0, "lbf·ft": 1.355818}[unit]  # NIST SP 811, appendix B.8: 1 lbf·ft = 1.355 818 N·m
    return TorqueValue((low * factor, high * factor), ((low, high, unit),), limit=limit)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("table", "in_step", "verdict"),
    [
        (torque(25, 25), torque(25, 25), "agree"),
        (torque(25, 25), torque(24, 24), "disagree"),
        (torque(20, 30), torque(25, 25), "agree"),
        (torque(25, 25), torque(18, 18, "lbf·ft"), "agree"),
        (torque(25, 25), torque(20, 20, "lbf·ft"), "disagree"),
        (torque(30, 30, limit="at most"), torque(25, 25), "agree"),
        (torque(20, 20, limit="at most"), torque(25, 25), "disagree"),
    ],
)
def test_a_torque_in_two_places(table: TorqueValue, in_step: TorqueValue, verdict: str) -> None:
    bolt = Mention("head bolts", "tighten", exactly(4), Kind("bolt", "M8"))
    steps = procedure("a", "Head", step("1", bolt, torques=(in_step,)))
    found = compared(procedures=(steps,), torques=(TorqueRow("m/t/1", "Head bolts", table, "M8", cite("m")),))
    finding = the_one(found, matter="torque")
    assert finding.verdict == verdict
    assert len(finding.sides) == 2
    assert all(side.citations for side in finding.sides)


def test_torques_of_a_bare_screw_or_of_stages_are_no_disagreement() -> None:
    screw = Mention("screws", "tighten", exactly(4), Kind("screw", "M6"))
    steps = procedure(
        "a", "Head", step("1", screw, torques=(torque(9, 9),)), step("2", screw, torques=(torque(22, 22),))
    )
    rows = tuple(
        TorqueRow(f"m/t/{n}", f"Head screws, stage {n}", torque(n, n), "M6", cite("m")) for n in (1, 2)
    )
    assert [f for f in compared(procedures=(steps,), torques=rows).findings if f.verdict == "disagree"] == []


@pytest.mark.parametrize(("high", "verdict"), [(0.3, "agree"), (0.3001, "agree"), (0.4, "disagree")])
def test_a_limit_in_two_places(high: float, verdict: str) -> None:
    limits = tuple(
        Limit(
            f"m/limit/{n}",
            "Shaft, play",
            "play",
            part,
            limit=Span(None, most, "mm"),
            sense="at most",
            citations=cite("m"),
        )
        for n, part, most in ((1, "Shaft", 0.3), (2, "shafts", high))
    )
    assert the_one(compared(limits=limits), matter="wear limit").verdict == verdict


PAPER = """#set heading(numbering: none)
= Head
== Component list
#table(columns: (6cm, 2cm), stroke: 0.5pt, [*Component*], [*Qty*],
[Plate], [1], [M6 x 20 mm screw], [4], [Roller], [2])

1. Fit the plate with two M6 x 20 mm screws.
2. Fit the two rollers with two M6 x 20 mm screws.
3. Fit the guard with three M6 x 20 mm screws.
"""


def test_read_and_compared_from_the_shell(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typeset_pdf(tmp_path / "manual.pdf", PAPER)
    (tmp_path / "bill.csv").write_text("component,qty\nPlate,1\nM6 x 20mm Screw,7\nRoller,2\n")
    model = read_files([tmp_path / "manual.pdf", tmp_path / "bill.csv"]).machine
    assert [(part.title, part.name, part.quantity.low) for part in model.components] == [
        ("Head", "Plate", 1), ("Head", "M6 x 20 mm screw", 4), ("Head", "Roller", 2),
    ]  # fmt: skip
    monkeypatch.chdir(tmp_path)
    assert main(["read", "manual.pdf", "bill.csv", "--out", "model.json"]) in (0, 1)
    capsys.readouterr()
    assert main(["compare", "model.json"]) == 1
    text = capsys.readouterr().out
    assert "its steps: 2 + 2 + 3 = 7" in text
    assert "list of Head: 4" in text
    assert main(["compare", "model.json", "--json"]) == 1
    document = json.loads(capsys.readouterr().out)
    assert document["schema"] == "lastbolt.compared/1"
    verdicts = {(f["what"], f.get("within", "")): f["verdict"] for f in document["findings"]}
    assert verdicts["M6 x 20 mm screw", "Head"] == "disagree"
    assert verdicts["Plate", ""] == "agree"


def test_a_list_that_goes_on_over_the_page(tmp_path: Path) -> None:
    rows = ", ".join(f"[Bracket {chr(65 + n // 26)}{chr(65 + n % 26)}], [{n + 1}]" for n in range(60))
    table = f"#table(columns: (6cm, 2cm), stroke: 0.5pt, [*Component*], [*Qty*], {rows})"
    paper = f"= Head\n{table}\n\n1. Fit the plate.\n"
    typeset_pdf(tmp_path / "manual.pdf", paper)
    model = read_files([tmp_path / "manual.pdf"]).machine
    assert [part.quantity.low for part in model.components] == list(range(1, 61))
    assert {part.title for part in model.components} == {"Head"}
    pages = {part.citations[0].place.pdf_page for part in model.components}  # type: ignore[union-attr]
    assert pages == {1, 2}


def test_exit_codes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from lastbolt.edge.model_file import save_model

    agreeing = machine(
        procedures=(procedure("a", "Head", step("1", put(4))),), components=(listed("Screw M6 x 20", 4),)
    )
    save_model(tmp_path / "a.json", agreeing)
    save_model(tmp_path / "empty.json", machine())
    assert main(["compare", str(tmp_path / "a.json")]) == 0
    assert main(["compare", str(tmp_path / "empty.json")]) == 1
    assert "nothing was compared" in capsys.readouterr().out
    assert main(["compare", str(tmp_path / "none.json")]) == 2


def test_papers_that_were_read_apart(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Two models of one source id are told apart by their files; nothing is added up over both."""
    from lastbolt.edge.model_file import save_model

    steps = (procedure("a", "Head", step("1", put(4))),)
    manual = machine(procedures=steps, components=(listed("Screw M6 x 20", 4),))
    bill = machine(rows=(row("Screw M6 x 20", 5),))
    again = machine(rows=(row("Screw M6 x 20", 4),))
    found = compare_sources([manual, bill, again], ["manual.json", "bill.json", "again.json"])
    told = {
        (f.verdict, f.sides[0].place, f.sides[1].place, f.sides[1].says)
        for f in found.findings
        if not f.within
    }
    assert told == {
        ("disagree", "Bill (bill.json)", "its assemblies", "4"),
        ("agree", "Bill (again.json)", "its assemblies", "4"),
        ("disagree", "Bill (bill.json)", "Bill (again.json)", "4"),
    }
    save_model(tmp_path / "manual.json", manual)
    save_model(tmp_path / "bill.json", bill)
    assert main(["compare", str(tmp_path / "manual.json"), str(tmp_path / "bill.json")]) == 1
    assert "Bill (bill.json), line 7" in " ".join(capsys.readouterr().out.split())
