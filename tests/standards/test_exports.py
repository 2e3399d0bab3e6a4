"""Exported modules against the structure that the standards describe; the table knows nothing of the
program."""

import xml.etree.ElementTree as ET
from collections.abc import Callable
from pathlib import Path

import pytest
from reportlab.pdfgen import canvas

from lastbolt.cli.main import main
from standards import dita_topics, s1000d_modules, structure_dita, structure_s1000d
from standards.checking import faults
from standards.test_modules_read import as_folder

LINES = (
    (18, "4 Cover"), (14, "4.1 Removal of the cover"), (11, "WARNING"), (11, "Hot oil burns."),
    (11, "1. Remove the 2 screws M8x70 and the lock washers."), (11, "2. Lift off the cover (see 5.1)."),
    (14, "4.2 Installation of the cover"), (11, "1. Fit a new gasket."), (11,
    "2. Tighten the screws M8x70 to 24 Nm."),
    (18, "5 Pump"), (14, "5.1 Removal of the pump"), (11, "1. Remove the 4 nuts M6 (left-hand thread)."),
    (11, "2. Lift off the pump & its <seal>."),
)  # fmt: skip


def printed(folder: Path) -> Path:
    """A page of a manual, with signs that mean something in XML."""
    path = folder / "manual.pdf"
    sheet = canvas.Canvas(str(path), pagesize=(400, 600))
    for number, (size, text) in enumerate(LINES):
        sheet.setFont("Helvetica", size)
        sheet.drawString(50, 560 - 26 * number, text)
    sheet.save()
    return path


SOURCES: dict[str, tuple[Callable[[Path], Path], str]] = {
    "s1000d": (
        lambda folder: as_folder(folder / "winch", s1000d_modules.MODULES),
        "disassemble the winch case",
    ),
    "dita": (lambda folder: as_folder(folder / "winch", dita_topics.FILES), "separating the winch case"),
    "pdf": (printed, "remove the cover"),
    "pdf, alone": (printed, "remove the pump"),
}


@pytest.fixture(params=SOURCES)
def exported(request: pytest.FixtureRequest, tmp_path: Path) -> dict[str, str]:
    """Both forms of a plan."""
    make, goal = SOURCES[request.param]
    model, dita, s1000d = (str(tmp_path / name) for name in ("model.json", "out.dita", "out.xml"))
    assert main(["read", str(make(tmp_path)), "--out", model]) in {0, 1}
    assert main(["plan", goal, "--model", model, "--dita", dita, "--s1000d", s1000d]) in {0, 1}
    return {"dita": Path(dita).read_text("utf-8"), "s1000d": Path(s1000d).read_text("utf-8")}


def test_the_dita_export_is_a_machinery_task(exported: dict[str, str]) -> None:
    """OASIS DITA 1.3, part 3; the body after the constraint of the machinery task."""
    text = exported["dita"]
    assert faults(text, structure_dita.RULES, ("task",), structure_dita.COMMON) == []
    assert structure_dita.PUBLIC["machinery"] in text
    body = ET.fromstring(text).find("taskbody")
    assert body is not None
    assert body.find("prereq") is None, "a machinery task has preliminary requirements instead"
    types = {note.get("type", "note") for note in body.iter("note")}
    assert types <= set(structure_dita.NOTE_TYPES.split("|"))


def test_the_s1000d_export_is_a_procedural_module(exported: dict[str, str]) -> None:
    """S1000D issue 4.1, from memory (structure_s1000d.py)."""
    text = exported["s1000d"]
    assert faults(text, structure_s1000d.RULES, ("dmodule",), structure_s1000d.COMMON) == []
    root = ET.fromstring(text)
    assert root.find("content/procedure/mainProcedure/proceduralStep") is not None
    marks = {one.get("id") for one in root.iter() if one.get("id")}
    assert {one.get("internalRefId") for one in root.iter("internalRef")} <= marks


def test_both_exports_have_each_step_and_warning(exported: dict[str, str]) -> None:
    """The same deeds in both, and no warning weaker than a caution."""
    dita, s1000d = ET.fromstring(exported["dita"]), ET.fromstring(exported["s1000d"])
    commands = ["".join(one.itertext()).strip() for one in dita.iter("cmd")]
    paragraphs = ["".join(one.itertext()).strip() for one in s1000d.iter("para")]
    assert commands
    assert [one for one in commands if one not in paragraphs] == []
    strong = sum(note.get("type") in {"danger", "warning"} for note in dita.iter("note"))
    assert sum(1 for _ in s1000d.iter("warning")) == strong


@pytest.mark.parametrize(
    ("form", "old", "new"),
    [
        ("dita", "<cmd>", "<cmd><p/>"), ("dita", "<steps>", "<steps><note>x</note>"), ("dita", 'id="',
        'id="4 '),
        ("dita", "<prelreqs>", "<prelreqs>words"), ("dita", "</taskbody>", "<prereq/></taskbody>"),
        ("s1000d", "<mainProcedure>", "<mainProcedure><para/>"), ("s1000d", 'infoCode="', 'infoCode="X'),
        ("s1000d", "<reqSpares>", "<reqSpares><noSafety/>"), ("s1000d", "<closeRqmts>", "<closeRqmts>words"),
        ("s1000d", "<proceduralStep", '<proceduralStep colour="red"'),
    ],
)  # fmt: skip
def test_the_judge_sees_what_is_wrong(exported: dict[str, str], form: str, old: str, new: str) -> None:
    text = exported[form]
    assert old in text
    rules, root, common = {
        "dita": (structure_dita.RULES, "task", structure_dita.COMMON),
        "s1000d": (structure_s1000d.RULES, "dmodule", structure_s1000d.COMMON),
    }[form]
    assert faults(text.replace(old, new, 1), rules, (root,), common)
