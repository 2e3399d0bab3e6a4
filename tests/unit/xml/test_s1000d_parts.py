"""S1000D illustrated parts data (issue 4.1, chapter 3.9.5.2.7) and modules of issue 3.0; structure from memory.

Element names of the parts lines (`catalogSeqNumber`, `itemSeqNumber`, `quantityPerNextHigherAssy`, `partRef`,
`descrForPart`) were compared with public examples of issue 4.1 and 4.2 modules.
"""

# ruff: noqa: E501 - markup reads better unbroken

from pathlib import Path

from xml_samples import codes, dmc, module, of, put, read

FIGURE = (
    '<figure id="f1"><title>Crankcase</title><graphic infoEntityIdent="ICN-LB-2">'
    '<hotspot id="h1" applicationStructureName="1"/><hotspot id="h9" applicationStructureName="9"/>'
    "</graphic></figure>"
)


def item(quantity: str, name: str, number: str = "", more: str = "", attributes: str = "") -> str:
    part = f'<partRef manufacturerCodeValue="U" partNumberValue="{number}"/>' if number else ""
    return (
        f'<itemSeqNumber itemSeqNumberValue="00A" {attributes}><quantityPerNextHigherAssy>{quantity}'
        f"</quantityPerNextHigherAssy>{part}<partSegment><itemIdentData><descrForPart>{name}</descrForPart>"
        f"</itemIdentData></partSegment>{more}</itemSeqNumber>"
    )


def line(number: str, items: str, indenture: str = "1", attributes: str = "") -> str:
    return (
        f'<catalogSeqNumber figureNumber="01" item="{number}" indenture="{indenture}" {attributes}>{items}'
        "</catalogSeqNumber>"
    )


def parts(lines: str, top: str = "") -> str:
    content = f"{top}<illustratedPartsCatalog>{FIGURE}{lines}</illustratedPartsCatalog>"
    return module("72", "941", ("Crankcase", "Illustrated parts data"), content)


def test_rows_have_item_count_number_and_size(tmp_path: Path) -> None:
    lines = (
        line("001", item("1", "Case half", "LB-1"))
        + line("002", item("14", "Screw M6 x 45", "LB-2", "<partLocationSegment><attachStoreShipPart "
               'attachStoreShipPartCode="1"/></partLocationSegment>'), "2")
        + line("003", item("AR", "Sealant"))
        + line("004", item("REF", "Gearcase"), attributes='itemVariant="A"')
    )  # fmt: skip
    machine = read(put(tmp_path / "in", a=parts(lines)))
    case, screw, sealant, gearcase = machine.rows
    assert (case.figure, case.item, case.name, case.part_number) == ("72-10-01-01", "1", "Case half", "LB-1")
    assert (screw.quantity.kind, screw.quantity.low, screw.indent) == ("exactly", 14, 1)
    assert screw.kind is not None
    assert (screw.kind.thread, screw.kind.length_mm) == ("M6", 45)
    assert screw.remarks == "attaching part"
    assert sealant.quantity.kind == "as required"
    assert (gearcase.item, gearcase.quantity.kind) == ("4A", "unsaid")
    assert gearcase.doubt
    assert machine.sources[0].role == "parts list"
    figure = machine.figures[0]
    assert (figure.number, figure.title, figure.parts_figure) == ("72-10-01-01", "Crankcase", True)
    assert dict(figure.legend)["9"] == ""
    assert dict(figure.legend)["2"] == "Screw M6 x 45"


def test_a_count_for_one_of_several_assemblies_is_not_taken_for_the_whole(tmp_path: Path) -> None:
    lines = line("001", item("2", "Bearing cap")) + line("002", item("4", "Bolt M8 x 50"), "2")
    cap, bolt = read(put(tmp_path / "in", a=parts(lines))).rows
    assert (cap.quantity.per, bolt.quantity.low, bolt.quantity.per) == ("", 4, "assembly")
    assert "Bearing cap" in bolt.doubt


def test_interchangeable_parts_are_one_row_and_variants_are_two(tmp_path: Path) -> None:
    applics = (
        '<referencedApplicGroup><applic id="e"><assert applicPropertyIdent="model" applicPropertyValues="E"/></applic>'
        '<applic id="h"><assert applicPropertyIdent="model" applicPropertyValues="H"/></applic></referencedApplicGroup>'
    )
    same = item("4", "Screw M6 x 20", "LB-3") + item("4", "Screw M6 x 20", "LB-4")
    unlike = item("4", "Screw M6 x 25", "LB-5", attributes='applicRefId="e"') + item(
        "6", "Screw M6 x 30", "LB-6", attributes='applicRefId="h"'
    )
    one, two, three = read(
        put(tmp_path / "in", a=parts(line("001", same) + line("002", unlike), applics))
    ).rows
    assert (one.quantity.low, one.remarks) == (4, "or LB-4")
    assert [(r.item, r.applies.variants, r.quantity.low) for r in (two, three)] == [
        ("2", ("E",), 4), ("2", ("H",), 6),
    ]  # fmt: skip
    assert len({one.id, two.id, three.id}) == 3


def test_a_callout_of_a_step_leads_to_its_row(tmp_path: Path) -> None:
    steps = (
        "<procedure><mainProcedure><proceduralStep><para>Remove the screw M6 x 45 (<internalRef "
        'internalRefId="h1" internalRefTargetType="irtt11"/>).</para></proceduralStep>'
        '<proceduralStep><figure id="f1"><title>Crankcase</title><graphic infoEntityIdent="ICN-LB-2"><hotspot '
        'id="h1" applicationStructureName="2"/></graphic></figure></proceduralStep></mainProcedure></procedure>'
    )
    text = module("72", "520", ("Crankcase", "Remove procedure"), steps)
    lines = line("002", item("14", "Screw M6 x 45", "LB-2"))
    machine = read(put(tmp_path / "in", a=text, b=parts(lines)))
    (mention,) = of(machine, dmc("72", "520")).steps[0].mentions
    assert mention.rows == (machine.rows[0].id,)


OLD = """<?xml version="1.0"?>
<dmodule><idstatus><dmaddres><dmc><avee><modelic>LB</modelic><sdc>A</sdc><chapnum>{system}</chapnum>
<section>1</section><subsect>0</subsect><subject>01</subject><discode>00</discode><discodev>A</discodev>
<incode>{info}</incode><incodev>A</incodev><itemloc>D</itemloc></avee></dmc>
<dmtitle><techname>{name}</techname><infoname>{what}</infoname></dmtitle><issno issno="003" type="new"/>
<language language="sx"/></dmaddres></idstatus><content>{content}</content></dmodule>"""
OLD_REFERENCE = (
    "<refdm><avee><modelic>LB</modelic><sdc>A</sdc><chapnum>71</chapnum><section>1</section><subsect>0</subsect>"
    "<subject>01</subject><discode>00</discode><discodev>A</discodev><incode>520</incode><incodev>A</incodev>"
    "<itemloc>D</itemloc></avee></refdm>"
)


def test_modules_of_issue_3_0_are_read_alike(tmp_path: Path) -> None:
    content = (
        "<proced><prelreqs><reqconds><reqcond>The engine is cold</reqcond><reqcondm><reqcond>Guard removed</reqcond>"
        f"{OLD_REFERENCE}</reqcondm></reqconds><reqpers/><supequip><supeqli><supequi id='t1'><nomen>Puller</nomen>"
        "<identno><mfc>U</mfc><pnr>LB-9</pnr></identno><qty uom='EA'>1</qty></supequi></supeqli></supequip><supplies>"
        "<nosupply/></supplies><spares><nospares/></spares><safety><safecond><warning><para>Springs fly out.</para>"
        "</warning></safecond></safety></prelreqs><mainfunc><step1 id='s1'><caution><para>Keep it level.</para></caution>"
        "<para>Remove the three screws M6 x 20.</para><step2><para>Clean them.</para></step2></step1><step1><para>Do "
        "<xref xrefid='s1' xidtype='step'/> again.</para></step1></mainfunc><closereqs><reqconds><noconds/></reqconds>"
        "</closereqs></proced>"
    )
    guard = "<proced><mainfunc><step1><para>Remove the guard.</para></step1></mainfunc></proced>"
    machine = read(
        put(
            tmp_path / "in",
            a=OLD.format(system="72", info="530", name="Crankcase", what="Disassemble", content=content),
            b=OLD.format(system="71", info="520", name="Guard", what="Remove procedure", content=guard),
        )
    )
    found = of(machine, dmc("72", "530"))
    assert [(r.status, r.to) for r in found.before] == [
        ("in words", ()), ("resolved", (of(machine, dmc("71", "520")).id,)),
    ]  # fmt: skip
    assert (found.tools, [c.words for c in found.cautions]) == (("Puller LB-9",), ["Springs fly out."])
    assert [(s.mark, s.words) for s in found.steps] == [
        ("1", "Remove the three screws M6 x 20."), ("1.1", "Clean them."), ("2", "Do step 1 again."),
    ]  # fmt: skip
    assert [(c.signal, c.words) for c in found.steps[0].cautions] == [("caution", "Keep it level.")]
    assert found.steps[2].references[0].from_step == "1"
    assert codes(machine) == ["LB-R06"]


def test_parts_of_issue_3_0(tmp_path: Path) -> None:
    content = (
        '<ipc><figure id="f1"><title>Crankcase</title><graphic boardno="ICN-LB-2"/></figure>'
        '<csn csn="72100101 002" ind="2"><isn isn="00A"><qna>14</qna><mfc>U</mfc><pnr>LB-2</pnr>'
        "<pas><dfp>Screw M6 x 45</dfp></pas></isn></csn></ipc>"
    )
    text = OLD.format(system="72", info="941", name="Crankcase", what="Parts", content=content)
    (row,) = read(put(tmp_path / "in", a=text)).rows
    assert (row.figure, row.item, row.part_number, row.quantity.low) == ("72-10-01-01", "2", "LB-2", 14)
    assert row.indent == 1
