"""Files made to harm: each is refused with one clear problem, nothing is fetched and nothing grows."""

import zipfile
from pathlib import Path

import pytest
from xml_samples import module, procedure, put, read, step

from lastbolt.cli.main import main
from lastbolt.edge.documents import load
from lastbolt.edge.xml_in import read_publication
from lastbolt.edge.xml_parse import Limits
from lastbolt.words.machine import Machine
from lastbolt.words.problem import Refusal

GUARD = module("71", "520", ("Guard", "Remove procedure"), procedure(step("Remove the guard.")))
LAUGHS = (
    '<?xml version="1.0"?><!DOCTYPE dmodule [<!ENTITY a "ha">'
    + "".join(f'<!ENTITY {n} "{f"&{o};" * 10}">' for o, n in zip("abcdefgh", "bcdefghi", strict=True))
    + "]><dmodule>&i;</dmodule>"
)


def refused(path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """What the command says; it ends with 2, says one code, and writes nothing."""
    out = tmp_path / "out" / "model.json"
    assert main(["read", str(path), "--out", str(out)]) == 2
    assert not out.exists()
    said = capsys.readouterr().err
    assert said.count("LB-") == 1
    return said


def one(tmp_path: Path, text: str) -> Path:
    return put(tmp_path / "in", one=text) / "one.xml"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (LAUGHS, "LB-X02"),
        ('<!DOCTYPE dmodule [<!ENTITY x SYSTEM "file:///etc/passwd">]><dmodule>&x;</dmodule>', "LB-X02"),
        ('<!DOCTYPE dmodule [<!ENTITY x SYSTEM "http://localhost:9/x">]><dmodule>&x;</dmodule>', "LB-X02"),
        ('<!DOCTYPE dmodule [<!ENTITY % x "<!ENTITY y \'z\'>"> %x;]><dmodule/>', "LB-X02"),
        ("<dmodule>" * 5000 + "</dmodule>" * 5000, "LB-X03"),
        (f'<dmodule a="{"x" * 200_000}"/>', "LB-X03"),
        ("<dmodule>" + "<p/>" * 400_001 + "</dmodule>", "LB-X03"),
        ("<dmodule><content></dmodule>", "LB-X01"),
        ("<dmodule>&nowhere;</dmodule>", "LB-X01"),
        ('<?xml version="1.0" encoding="x-none"?><dmodule/>', "LB-X01"),
        ("<invoice><line/></invoice>", "LB-X07"),
    ],
    ids=["laughs", "file", "address", "parameter", "deep", "attribute", "many", "unclosed", "undeclared",
         "encoding", "other root"],
)  # fmt: skip
def test_one_file_is_refused(
    text: str, code: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code in refused(one(tmp_path, text), tmp_path, capsys)


def test_an_attribute_of_100_megabytes_is_not_even_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "large.xml"
    with path.open("wb") as stream:
        stream.write(b'<dmodule a="')
        stream.truncate(100 * 10**6)
    assert "LB-X03" in refused(path, tmp_path, capsys)


def test_text_from_outside_is_not_fetched(tmp_path: Path) -> None:
    """An external subset and a parameter entity may be named (S1000D names its character lists so); neither
    is fetched: the words of the file beside it do not appear."""
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "evil.ent").write_text("<!ENTITY deg 'stolen'>", encoding="utf-8")
    top = '<!DOCTYPE dmodule SYSTEM "evil.ent" [<!ENTITY % ISO SYSTEM "evil.ent"> %ISO;]>'
    text = module(
        "71", "520", ("Guard", "Remove procedure"), procedure(step("Warm it to 80 &deg;C.")), top=top
    )
    machine = read(one(tmp_path, text))
    assert machine.procedures[0].steps[0].words == "Warm it to 80 °C."


def test_names_of_illustrations_are_no_entities_to_fear(tmp_path: Path) -> None:
    """S1000D 4.1 chapter 3.9.5.2.1.6: illustrations are declared as unparsed entities (memory)."""
    top = (
        '<!DOCTYPE dmodule [<!NOTATION cgm PUBLIC "-//USA-DOD//NOTATION CGM//EN">'
        '<!ENTITY ICN-LB-1 SYSTEM "../../etc/ICN-LB-1.CGM" NDATA cgm>]>'
    )
    text = module("71", "520", ("Guard", "Remove procedure"), procedure(step("Remove the guard.")), top=top)
    assert len(read(one(tmp_path, text)).procedures) == 1


def test_a_character_nobody_knows_is_told(tmp_path: Path) -> None:
    top = '<!DOCTYPE dmodule SYSTEM "x.dtd">'
    text = module(
        "71", "520", ("Guard", "Remove procedure"), procedure(step("Turn it &quux; times.")), top=top
    )
    machine = read(one(tmp_path, text))
    assert "\ufffd" in machine.procedures[0].steps[0].words
    assert [p.code for p in machine.problems] == ["LB-X12"]


@pytest.mark.parametrize("name", ["../../evil.xml", "/etc/evil.xml", "a/../../evil.xml", "..\\evil.xml"])
def test_an_archive_whose_names_lead_out_is_refused(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "modules.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("good.xml", GUARD)
        archive.writestr(name, GUARD)
    assert "LB-X05" in refused(path, tmp_path, capsys)


def test_an_archive_that_swells_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "modules.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("one.xml", b" " * (65 * 2**20))
    assert path.stat().st_size < 2**20
    assert "LB-X03" in refused(path, tmp_path, capsys)


def test_a_damaged_archive_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "modules.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("good.xml", GUARD)
    path.write_bytes(path.read_bytes()[:-30])
    assert "LB-X06" in refused(path, tmp_path, capsys)


def test_a_link_out_of_the_folder_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = put(tmp_path / "in", good=GUARD)
    (tmp_path / "secret.xml").write_text(GUARD, encoding="utf-8")
    (folder / "link.xml").symlink_to(tmp_path / "secret.xml")
    assert "LB-X05" in refused(folder, tmp_path, capsys)


def test_an_empty_folder_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "in").mkdir()
    assert "LB-X04" in refused(tmp_path / "in", tmp_path, capsys)


def test_one_bad_module_does_not_lose_the_others(tmp_path: Path) -> None:
    folder = put(tmp_path / "in", bad="<dmodule><content></dmodule>", good=GUARD, laughs=LAUGHS)
    machine = read(folder)
    assert len(machine.procedures) == 1
    assert sorted((p.code, p.grade) for p in machine.problems) == [("LB-X01", "doubt"), ("LB-X02", "doubt")]
    assert all(p.where.startswith(str(folder)) for p in machine.problems)


def test_what_lies_beside_the_modules_is_named(tmp_path: Path) -> None:
    folder = put(tmp_path / "in", good=GUARD)
    (folder / "parts.csv").write_text("Item,Name,Qty\n1,Nut,2\n", encoding="utf-8")
    (folder / "old.sgm").write_text("<dmodule>", encoding="utf-8")
    told = [(p.code, p.grade, p.what[:2]) for p in read(folder).problems]
    assert told == [("LB-X14", "note", "2 ")]
    with zipfile.ZipFile(tmp_path / "in.zip", "w") as archive:
        for file in folder.iterdir():
            archive.write(file, file.name)
    assert [(p.code, p.grade, p.what[:2]) for p in read(tmp_path / "in.zip").problems] == told


def test_modules_and_a_table_make_one_model(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder, out = put(tmp_path / "in", good=GUARD), tmp_path / "m.json"
    table = tmp_path / "parts.csv"
    table.write_text("Figure,Item,Name,Qty\n1,1,Screw M6 x 20,3\n", encoding="utf-8")
    assert main(["read", str(folder), str(table), "--out", str(out)]) == 0
    machine = load(out, Machine)
    assert ([p.deed for p in machine.procedures], [r.name for r in machine.rows]) == (
        ["remove"],
        ["Screw M6 x 20"],
    )
    assert [s.media_type for s in machine.sources] == ["application/xml", "text/csv"]
    assert "1 module," in capsys.readouterr().out


def test_limits_count_what_they_say(tmp_path: Path) -> None:
    path = one(tmp_path, GUARD)
    for limits in (Limits(file_bytes=100), Limits(depth=3), Limits(elements=5), Limits(attribute_chars=2)):
        with pytest.raises(Refusal) as caught:
            read_publication(path, limits)
        assert [p.code for p in caught.value.problems] == ["LB-X03"]


def test_folder_archive_and_file_say_the_same(tmp_path: Path) -> None:
    folder = put(tmp_path / "same", one=GUARD)
    with zipfile.ZipFile(tmp_path / "same.zip", "w") as archive:
        archive.write(folder / "one.xml", "one.xml")
    found = [read(folder), read(tmp_path / "same.zip"), read(folder / "one.xml")]
    assert [[s.words for p in m.procedures for s in p.steps] for m in found] == [["Remove the guard."]] * 3
