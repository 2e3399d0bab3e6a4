"""Tables of torques and of limits in many forms, each a small page (NIST SP 811, appendix B.8)."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from failure.made_pdf import typeset_pdf
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.reading.manual import BookRead, BookReader, BookSettings
from lastbolt.reading.torques import torques_in
from lastbolt.words.page import PageLayout

PAGE = """#set page(width: 210mm, height: 297mm, margin: 20mm)
#set text(size: 9pt, font: "DejaVu Sans")
#let dots = box(width: 1fr, repeat[.])
= 1 DATA
== 1.1 %s
"""
TORQUES = (
    ("Cylinder head nuts", "130-146", "96-108"),
    ("Oil pan screws", "24-28", "18-21"),
    ("Drain plug", "9", "7"),
)
NM = [(130.0, 146.0), (24.0, 28.0), (9.0, 9.0)]
SPAN = "table.cell(rowspan: 2)[*Item*], table.cell(colspan: 2)[*Torque*], [*N·m*], [*lb-ft*],"


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], stroke: str = "none", above: str = "") -> str:
    """Rows under headings as markup."""
    cells = "".join(", ".join(f"[{cell}]" for cell in row) + ",\n" for row in rows)
    head = above or "".join(f"[*{one}*], " for one in heads)
    return f"#table(columns: {len(rows[0])}, stroke: {stroke}, {head}{cells})\n"


def read(folder: Path, title: str, markup: str) -> BookRead:
    """The book of the pages."""
    typeset_pdf(folder / "data.pdf", PAGE % title + markup)
    reader = BookReader(BookSettings("d", "data.pdf"))
    for page in read_pages(folder / "data.pdf", PdfSettings(workers=1)):
        assert isinstance(page, PageLayout)
        reader.add(page)
    return reader.finish()


NM_ONLY = [(name, nm) for name, nm, _ in TORQUES]
TORQUE_FORMS = {
    "units alone as headings": ("TORQUES", table(("Item", "N·m", "lb-ft"), TORQUES)),
    "the same, ruled": ("TORQUES", table(("Item", "N·m", "lb-ft"), TORQUES, "0.4pt")),
    "a heading over two": ("TORQUES", table((), TORQUES, "0.4pt", SPAN)),
    "unit in the title": ("TIGHTENING TORQUES (N·m)", table(("Part", "Torque"), NM_ONLY, "0.4pt")),
    "unit in a line": (
        "TIGHTENING TORQUES",
        "All values in Nm.\n" + table(("Part", "Value"), NM_ONLY, "0.4pt"),
    ),
    "lines with a colon": ("TIGHTENING TORQUES", "".join(f"{n}: {nm} Nm \\\n" for n, nm, _ in TORQUES)),
    "least and most": (
        "TORQUES",
        table(
            ("Item", "Min. Nm", "Max. Nm"),
            [(n, nm.split("-")[0], nm.split("-")[-1]) for n, nm, _ in TORQUES],
            "0.4pt",
        ),
    ),
    "threads beside": (
        "TORQUES",
        table(
            ("Fastening", "Thread", "Torque Nm", "Torque ft lb"), [(n, "M8", nm, lb) for n, nm, lb in TORQUES]
        ),
    ),
}


@pytest.mark.parametrize("form", TORQUE_FORMS)
def test_torques(tmp_path: Path, form: str) -> None:
    """Each name with its torque, whichever unit was taken first."""
    rows = read(tmp_path, *TORQUE_FORMS[form]).torques
    assert [row.what for row in rows] == [name for name, _, _ in TORQUES]
    found = [row.value.torque_Nm for row in rows]
    for one, wanted in zip(found, NM, strict=True):
        assert one == pytest.approx(wanted, rel=0.03, abs=0.6)


def test_two_units_beside_a_table_are_no_unit_for_it(tmp_path: Path) -> None:
    """Nobody can say which is meant: no value is made."""
    markup = table(("Part", "Torque"), NM_ONLY, "0.4pt")
    book = read(tmp_path, "TIGHTENING TORQUES (N·m or lb-ft)", markup)
    assert not book.torques
    assert any(one.code == "LB-P06" for one in book.problems)


LIMITS = (("Valve guide, bore", "8.00", "8.02", "8.10"), ("Rotor, thickness", "12.10", "12.15", "11.90"))
ROWS = [
    row for n, a, b, c in LIMITS for row in ((n, "Standard", f"{a}-{b} mm"), ("", "Service limit", f"{c} mm"))
]
LIMIT_FORMS = {
    "values alone as headings": table(
        ("", "Standard", "Limit"), [(n, f"{a}-{b} mm", f"{c} mm") for n, a, b, c in LIMITS]
    ),
    "standard over limit": table(("Part", "Kind", "Value"), ROWS, "0.4pt"),
    "a limit of wear called the most": table(
        ("Point of measurement", "Size of new parts, mm", "Max. permissible wear to, mm"),
        [(n, f"{a}-{b}", c) for n, a, b, c in LIMITS],
    ),
    "lines": "".join(f"{n}: standard {a} to {b} mm, limit {c} mm \\\n" for n, a, b, c in LIMITS),
    "leaders": "".join(f"{n} #dots {a}-{b} mm (limit {c} mm) \\\n" for n, a, b, c in LIMITS),
}


@pytest.mark.parametrize("form", LIMIT_FORMS)
def test_limits(tmp_path: Path, form: str) -> None:
    """Name, standard range, limit and its good side: a bore grows, a thickness shrinks."""
    found = [
        (one.measure, one.standard and (one.standard.low, one.standard.high), one.limit, one.sense)
        for one in read(tmp_path, "WEAR LIMITS", LIMIT_FORMS[form]).limits
    ]
    assert [(m, s, side) for m, s, _, side in found] == [
        ("bore", (8.0, 8.02), "at most"), ("thickness", (12.1, 12.15), "at least")
    ]  # fmt: skip
    assert [(one.low, one.high, one.unit) for _, _, one, _ in found if one is not None] == [
        (None, 8.1, "mm"), (11.9, None, "mm")
    ]  # fmt: skip


@pytest.mark.parametrize("said", ["Tighten to 10 mN.", "Tighten the nuts to 10 MN.", "Torque to 10 m N."])
def test_a_force_where_a_torque_is_meant_is_asked_for(said: str) -> None:
    """A newton is no newton metre: no value, and the reason."""
    (one,) = torques_in(said)
    assert one.value.torque_Nm is None
    assert "torque" in one.doubt


def test_what_a_wrench_can_do_is_no_torque() -> None:
    """The range of a tool begins at nought; a torque set with it is one."""
    assert not torques_in("Torque wrench (0-175 lb-ft)")
    assert torques_in("Tighten with a torque wrench to 50 Nm")[0].value.torque_Nm == (50.0, 50.0)
