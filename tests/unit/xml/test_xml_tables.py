"""Tables in modules: torques, parts and fasteners, in CALS tables (both standards) and DITA simple tables.

CALS: OASIS Technical Resolution 9503:1995, exchange table model (colspec, namest/nameend, morerows; from memory).
"""

# ruff: noqa: E501 - markup reads better unbroken

from pathlib import Path

from xml_samples import codes, module, put, read

from lastbolt.words.citation import XmlPlace


def cals(head: str, rows: list[str], title: str = "Torques") -> str:
    def row(cells: str) -> str:
        return "<row>" + "".join(f"<entry>{cell}</entry>" for cell in cells.split("|")) + "</row>"

    body = "\n".join(row(cells) if not cells.startswith("<") else cells for cells in rows)
    count = len(head.split("|"))
    names = "".join(f'<colspec colname="c{n}"/>' for n in range(1, count + 1))
    return (
        f'<table><title>{title}</title><tgroup cols="{count}">{names}<thead>{row(head)}</thead><tbody>{body}'
        "</tbody></tgroup></table>"
    )


def described(table: str) -> str:
    return module(
        "72", "040", ("Crankcase", "Description"), f"<description><para>Data.</para>{table}</description>"
    )


def topic(table: str) -> str:
    return f'<reference id="r_data"><title>Data</title><refbody>{table}</refbody></reference>'


def test_a_torque_table_in_a_data_module(tmp_path: Path) -> None:
    table = cals("Joint|Thread|Torque (N·m)", ["Crankcase screws|M6|10", "Shaft nut|M16 x 1.5|60 to 70"])
    folder = put(tmp_path / "in", a=described(table))
    case, nut = read(folder).torques
    assert (case.what, case.thread, case.value.torque_Nm) == ("Crankcase screws", "M6", (10.0, 10.0))
    assert nut.value.torque_Nm == (60.0, 70.0)
    place = nut.citations[0].place
    assert isinstance(place, XmlPlace)
    line = (folder / place.file).read_text(encoding="utf-8").splitlines()[place.line - 1]
    assert "Shaft nut" in line
    assert place.path.endswith("tbody/row[2]")
    assert nut.value.citations == nut.citations


def test_units_that_do_not_agree_are_told_at_their_row(tmp_path: Path) -> None:
    table = cals("Joint|Torque (N·m)|Torque (lbf·ft)", ["Crankcase screws|10|7.4", "Shaft nut|60|60"])
    machine = read(put(tmp_path / "in", a=described(table)))
    assert codes(machine) == ["LB-P05"]
    assert "a.xml, line " in machine.problems[0].where


def test_a_cell_over_several_rows_counts_in_each(tmp_path: Path) -> None:
    rows = [
        '<row><entry morerows="1">Crankcase screws</entry><entry>M6</entry><entry>10</entry></row>',
        "<row><entry>M8</entry><entry>22</entry></row>",
        "Shaft nut|M16|60",
    ]
    machine = read(put(tmp_path / "in", a=described(cals("Joint|Thread|Torque (N·m)", rows))))
    assert [(t.what, t.thread, t.value.torque_Nm) for t in machine.torques] == [
        ("Crankcase screws", "M6", (10.0, 10.0)),
        ("Crankcase screws", "M8", (22.0, 22.0)),
        ("Shaft nut", "M16", (60.0, 60.0)),
    ]


def test_a_parts_list_in_a_topic(tmp_path: Path) -> None:
    table = (
        "<simpletable><sthead><stentry>Item</stentry><stentry>Part no.</stentry><stentry>Description</stentry>"
        "<stentry>Qty</stentry></sthead><strow><stentry>1</stentry><stentry>LB-1</stentry><stentry>Case half</stentry>"
        "<stentry>2</stentry></strow><strow><stentry>2</stentry><stentry>LB-2</stentry><stentry>Screw M6 x 45</stentry>"
        "<stentry>14</stentry></strow></simpletable>"
    )
    (tmp_path / "parts.dita").write_text(topic(table), encoding="utf-8")
    machine = read(tmp_path)
    half, screw = machine.rows
    assert (half.item, half.name, half.quantity.low) == ("1", "Case half", 2)
    assert screw.kind is not None
    assert (screw.kind.thread, screw.kind.length_mm, screw.quantity.low) == ("M6", 45, 14)
    assert [f.number for f in machine.figures] == [half.figure] == ["r_data"]
    assert isinstance(screw.citations[0].place, XmlPlace)
    assert screw.citations[0].place.path.endswith("strow[2]")
    assert machine.sections[0].holds == "table"


def test_a_table_of_the_modules_own_screws(tmp_path: Path) -> None:
    table = cals(
        "Screw|Quantity|Positions", ["Screw M6 x 45|10|1 to 10", "Screw M6 x 60|4|11 to 14"], "Case screws"
    )
    machine = read(put(tmp_path / "in", a=described(table)))
    assert [(r.quantity.low, r.kind and r.kind.length_mm) for r in machine.bolt_rows] == [(10, 45), (4, 60)]


def test_a_table_of_other_things_says_nothing(tmp_path: Path) -> None:
    machine = read(put(tmp_path / "in", a=described(cals("Colour|Meaning", ["red|hot", "blue|cold"]))))
    assert (machine.rows, machine.torques, machine.bolt_rows, machine.problems) == ((), (), (), ())
