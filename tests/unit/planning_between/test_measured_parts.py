"""What a goal needs measured; a part beyond its limit is ordered and stands in the account."""

import json
from pathlib import Path

import pypdfium2
import pytest
from msgspec.structs import replace
from small_book import M8X20, cited, machine, names, proc, row, step

from lastbolt.app.beyond_found import with_beyond
from lastbolt.app.limits_of_goal import limits_of_goal
from lastbolt.app.make_back import make_back
from lastbolt.app.make_plan import make_plan
from lastbolt.cli.main import main
from lastbolt.edge import documents
from lastbolt.words.job import JOB_SCHEMA, Event, FoundBad, Job, Measured, Renewed, StepDone, ToolTaken
from lastbolt.words.machine import Machine, Reference, Section
from lastbolt.words.measured import Limit, Reading, Span

OPEN = proc("4.1", "Opening the case", "separate", "case",
            step("1", "Remove the four case screws.", names("case screws", count=4, kind=M8X20, row="2/1")),
            step("2", "Take the layshaft out.", names("layshaft", row="2/3")), page=3)  # fmt: skip
CHECK = proc("4.9", "Checking something else", "check", "clutch", step("1", "Look at the clutch."), page=9)
TOOL = ToolTaken(id="t", by="Ama", name="micrometer", kind="outside micrometer", low=25, high=50,
                 resolution=0.001, uncertainty=0.004, calibrated_until="2099-01-01")  # fmt: skip


def size(what: str, low: float, high: float, end: float, page: int, top: float = 0.5) -> Limit:
    """A size of which less is worn."""
    return Limit(
        f"book/limit/{'-'.join(what.lower().split())}", what, standard=Span(low, high, "mm"),
        limit=Span(end, None, "mm"), sense="at least", citations=cited("book", page, what, top),
    )  # fmt: skip


SHAFT = size("Layshaft, diameter", 30.002, 30.011, 29.990, 41)
DISC = size("Clutch disc, thickness", 3.1, 3.3, 2.8, 41, 0.6)
OWN = size("Thrust washer, thickness", 1.9, 2.0, 1.7, 3)
ROWS = (row("2/1", "Screw, case", 4, M8X20, number="W-1"), row("2/2", "Shaft, lay", 1, number="W-2"),
        row("2/3", "Layshaft", 1, number="W-3"))  # fmt: skip
SECTIONS = (
    Section("book/section/4.1", "4.1", "Opening the case", 2, holds="procedure", citations=cited("book", 3)),
    Section("book/section/7.1", "7.1", "Wear limits", 2, holds="table", citations=cited("book", 41)),
)


def book(*limits: Limit) -> Machine:
    return replace(machine(OPEN, CHECK, *ROWS, *SECTIONS), limits=limits or (SHAFT, DISC, OWN))


def wanted(made: Machine) -> dict[str, str]:
    plan = make_plan(made, "4.1", None, None)
    return {one.limit.what: one.why for one in limits_of_goal(made, plan, make_back(made, plan, None))}


def test_a_limit_belongs_by_its_section_or_by_a_part_that_comes_off() -> None:
    found = wanted(book())
    assert found == {
        SHAFT.what: "names the layshaft, which comes off",
        OWN.what: "stands in 4.1",
    }


def test_a_table_that_a_step_refers_to_belongs_and_a_whole_books_table_does_not() -> None:
    see = Reference("r", "Compare with 7.1.", "see", "resolved", ("book/section/7.1",))
    open_ = replace(OPEN, steps=(OPEN.steps[0], replace(OPEN.steps[1], references=(see,))))
    small = replace(machine(open_, CHECK, *ROWS, *SECTIONS), limits=(SHAFT, DISC))
    assert set(wanted(small)) == {SHAFT.what, DISC.what}
    many = tuple(size(f"Disc {n}, thickness", 3, 4, 2, 41, 0.3 + n / 200) for n in range(40))
    large = replace(small, limits=(SHAFT, DISC, *many))
    assert set(wanted(large)) == {SHAFT.what}


def test_a_limit_without_a_part_is_of_the_part_its_step_names() -> None:
    bare = size("thickness", 3.1, 3.3, 2.8, 3)
    line = step("1", "Check the thrust ring. Minimum thickness 2.8 mm.", names("thrust ring", "check"))
    check = proc("4.1", "Opening the case", "separate", "case", line)
    check = replace(check, steps=(replace(check.steps[0], limits=(bare,)),))
    found = limits_of_goal(machine(check), None, None)
    assert [(one.limit.what, one.limit.id) for one in found] == [("Thrust ring, thickness", bare.id)]


def test_without_a_goal_every_limit_is_there() -> None:
    assert [one.limit.what for one in limits_of_goal(book(), None, None)] == [SHAFT.what, DISC.what, OWN.what]


def read(number: int, limit: Limit, *values: float, **more: object) -> Measured:
    readings = tuple(Reading(value, str(place)) for place, value in enumerate(values))
    return Measured(
        id=f"m{number}", by="Ama", limit=limit.id, tool="micrometer", unit="mm", readings=readings, **more
    )  # type: ignore[arg-type]


def bad(*events: Event) -> list[FoundBad]:
    job = Job(JOB_SCHEMA, "j", "4.1", events=(TOOL, *events))
    made = with_beyond(book(), job)
    assert made is not None
    assert [event for event in made.events if not isinstance(event, FoundBad)] == [
        event for event in job.events if not isinstance(event, FoundBad)
    ]
    return [event for event in made.events if isinstance(event, FoundBad)]


def test_a_part_beyond_its_limit_is_found_bad_with_its_page() -> None:
    found = bad(read(1, SHAFT, 29.980, 29.981))
    assert [(one.part, one.row, one.how, one.count) for one in found] == [
        ("Layshaft", "list/row/2/3", "beyond limit", 1)
    ]
    assert found[0].citations == SHAFT.citations
    assert "29.98" in found[0].words


@pytest.mark.parametrize("value", [30.005, 29.995, 29.991, 29.989])
def test_what_is_good_worn_or_not_told_by_the_tool_is_not_ordered(value: float) -> None:
    # The certificate alone leaves 0.004: 29.991 and 29.989 are too close to 29.990.
    assert bad(read(1, SHAFT, value, value)) == []


def test_what_somebody_said_himself_is_not_said_twice_and_a_renewed_part_is_good() -> None:
    own = FoundBad(id="f", by="Ben", part="Layshaft", how="beyond limit", row="list/row/2/3")
    found = bad(own, read(1, SHAFT, 29.98, 29.98))
    assert [(one.id, one.by, one.citations) for one in found] == [("f", "Ben", SHAFT.citations)]
    assert "29.98" in found[0].words
    assert bad(read(1, SHAFT, 29.98, 29.98), Renewed(id="r", by="Ben", part="layshaft")) == []


def test_two_alike_are_two_and_one_measured_twice_is_one() -> None:
    found = bad(read(1, DISC, 2.5, of="1"), read(2, DISC, 2.6, of="2"), read(3, DISC, 2.5, of="2"))
    assert [(one.part, one.row, one.count) for one in found] == []  # the micrometer reads from 25 on: asked
    wide = replace(TOOL, id="t2", low=0.0)
    found = bad(wide, read(1, DISC, 2.5, of="1"), read(2, DISC, 2.6, of="2"), read(3, DISC, 2.5, of="2"))
    assert [(one.part, one.row, one.count) for one in found] == [("Clutch disc", "", 2)]


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    documents.save(tmp_path / "m.json", book())
    documents.save(tmp_path / "j.json", Job(JOB_SCHEMA, "j", "4.1"))
    (tmp_path / "t.csv").write_text(
        "name,kind,unit,range,resolution,uncertainty,calibrated until\n"
        "micrometer,outside micrometer,mm,0-50,0.001,0.004,2099-01-01\n"
    )
    monkeypatch.chdir(tmp_path)
    return tmp_path


MEASURE = [
    "measure",
    "4.1",
    "--model",
    "m.json",
    "--job",
    "j.json",
    "--tools",
    "t.csv",
    "--today",
    "2026-12-01",
]


def test_readings_typed_reach_order_and_account(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (bench / "r.txt").write_text(
        "by Ama\nwith micrometer\nzero 25.000 on 25.000\nlayshaft: 29.980 29.981\nthrust washer: 1.95"
    )
    assert main([*MEASURE, "--typed", "r.txt", "--add"]) == 1
    assert "Of 2 sizes: 1 beyond the limit, 1 within." in capsys.readouterr().out
    once = (bench / "j.json").read_bytes()
    assert main([*MEASURE, "--typed", "r.txt", "--add"]) == 1
    assert (bench / "j.json").read_bytes() == once
    capsys.readouterr()
    main(["order", "4.1", "--model", "m.json", "--job", "j.json"])
    ordered = " ".join(capsys.readouterr().out.split())
    assert "1 W-3 Layshaft beyond limit (Ama): Layshaft, diameter: 29.980 ± 0.004 mm" in ordered
    assert "printed page p41" in ordered
    main(["refit", "4.1", "--model", "m.json", "--job", "j.json"])
    assert "layshaft: beyond limit" in capsys.readouterr().out


def test_the_sheet_stays_the_same_when_work_is_done(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main([*MEASURE, "--json"])
    before = json.loads(capsys.readouterr().out)["sheet"]
    ticks = tuple(StepDone(id=f"s{n}", by="Ama", step=f"book/step/4.1/{n}", looked=True) for n in (1, 2))
    documents.save(bench / "j.json", Job(JOB_SCHEMA, "j", "4.1", events=ticks))
    main([*MEASURE, "--json"])
    assert json.loads(capsys.readouterr().out)["sheet"] == before


def test_exit_codes(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(MEASURE) == 1, "nothing is measured"
    text = "by Ama\nwith micrometer\nzero 0.000\nlayshaft: 30.005 30.006\nthrust washer: 1.95 1.95"
    (bench / "good.txt").write_text(text)
    assert main([*MEASURE, "--typed", "good.txt"]) == 0
    assert "All 2 sizes measured are within their limits." in capsys.readouterr().out
    (bench / "odd.txt").write_text(f"{text}\nfrobnicate")
    assert main([*MEASURE, "--typed", "odd.txt"]) == 1
    assert "LB-M04" in capsys.readouterr().err
    late = [word if word != "2026-12-01" else "2100-01-01" for word in MEASURE]
    assert main([*late, "--typed", "good.txt"]) == 1
    assert main([*MEASURE[:-1], "yesterday"]) == 2
    assert main(["measure", "--tools", "t.csv"]) == 2
    assert main(["measure", "fly to the moon", "--model", "m.json"]) == 2
    assert main([*MEASURE, "--add"]) == 2


def test_a_limit_from_paper_needs_no_model(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (bench / "p.txt").write_text(
        "by Ama\nwith micrometer\nbore: standard 30.00 to 30.02, at most 30.05 mm\nbore: 30.06 30.07"
    )
    assert main(["measure", "--typed", "p.txt", "--tools", "t.csv"]) == 1
    out = capsys.readouterr().out
    assert "1 beyond the limit" in out
    assert "typed, line 3" in out


def test_the_printed_sheet_holds_every_size_and_no_markup(bench: Path) -> None:
    odd = size("Washer #let *b* $a$ <b>, thickness", 1.9, 2.0, 1.7, 3)
    documents.save(bench / "m2.json", book(SHAFT, odd))
    assert main(["measure", "4.1", "--model", "m2.json", "--sheet", "s.pdf", "--plot", "p.svg"]) == 1
    pages = pypdfium2.PdfDocument(bench / "s.pdf")
    text = " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())
    for words in (
        "2 sizes to measure",
        SHAFT.what,
        "#let *b* $a$ <b>",
        "at least 29.990 mm",
        "outside micrometer",
        "page p41",
    ):
        assert words in text
    (bench / "r.txt").write_text("with micrometer\nlayshaft: 29.980 29.981\nwasher: 1.8")
    code = main(["measure", "4.1", "--model", "m2.json", "--typed", "r.txt", "--tools", "t.csv",
                 "--sheet", "s2.pdf", "--plot", "p.svg", "--out", "o.json"])  # fmt: skip
    assert code == 1
    drawn = (bench / "p.svg").read_text()
    assert "&lt;b&gt;" in drawn
    assert "<b>" not in drawn
    assert "BEYOND" in drawn
    assert (bench / "o.json").stat().st_size > 0
    assert pypdfium2.PdfDocument(bench / "s2.pdf")[0].get_textpage().get_text_range()


def test_pinion_marks_typed_in_hundredths_are_asked(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (bench / "s.csv").write_text("name,thickness,count\nshim,0.10,any\n")
    (bench / "r.txt").write_text("pinion shims: pack 1.50, old mark -5, new mark 3, plus thicker")
    assert main(["measure", "--typed", "r.txt", "--stock", "s.csv"]) == 1
    assert "type 5 hundredths as 0.05" in " ".join(capsys.readouterr().err.split())


def test_shims_from_stock(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (bench / "s.csv").write_text(
        "name,part number,thickness,count\nshim,S-1,0.10,1\nshim,S-2,0.50,1\nshim,S-3,0.15,any\n"
    )
    (bench / "r.txt").write_text(
        "end float: standard 0.10 to 0.20 mm\nshims for end float: free 0.81\n"
        "valve clearance intake: standard 0.15 to 0.25 mm\n"
        "valve 1 intake: lash 0.05, shim 2.60\nvalve 2 intake: lash 0.35, shim 2.45\n"
        "pinion shims: pack 0.60, old mark -5, new mark -5, plus thicker"
    )
    main(["measure", "--typed", "r.txt", "--stock", "s.csv"])
    out = " ".join(capsys.readouterr().out.split())
    # Wanted 0.61 to 0.71: 0.50 + 0.15 leaves 0.16, nearest the middle of 0.10 to 0.20.
    assert "1. shim S-2 + shim S-3: 0.650 mm, leaves 0.160 mm" in out
    # 1: 0.05 + 2.60 - 2.45 = 0.20; 2: 0.35 + 2.45 - 2.60 = 0.20: the two change places.
    assert "1 intake: 2.450 mm, from valve 2 intake; lash then 0.200 mm" in out
    assert "2 intake: 2.600 mm, from valve 1 intake; lash then 0.200 mm" in out
    # The same marks and bearing want the same pack again: 0.50 + 0.10.
    assert "shim S-1 + shim S-2: 0.600 mm" in out
