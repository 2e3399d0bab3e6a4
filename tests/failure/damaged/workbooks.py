"""Damaged workbooks: XLSX (ECMA-376, by openpyxl and by hand), ODS (OASIS OpenDocument 1.3, by hand), XLS,
XLSB.

The structure of the hand-made ones is from memory; only as much stands there as a reader needs.
"""

import functools
import io
import random
import re
import struct
import zipfile
from pathlib import Path

import openpyxl

from failure.damaged.cases import Case, Kind, cut, flipped, mangled, reading
from failure.damaged.tables import HEAD, HOSTILE, ROWS

XLSX, ODS = "list.xlsx", "list.ods"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
STRINGS = "xl/sharedStrings.xml"
FIXED = (2030, 1, 1, 0, 0, 0)


@functools.cache
def whole() -> bytes:
    """The parts list as openpyxl writes it, with a fixed time."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (HEAD, *ROWS):
        sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return repacked(
        _shared({name: text for name, text in unpacked(out.getvalue()).items() if "docProps" not in name})
    )


def _shared(members: dict[str, bytes]) -> dict[str, bytes]:
    """The words of the sheet moved into the list that all sheets share, as most programs write them."""
    words: list[bytes] = []

    def index(found: re.Match[bytes]) -> bytes:
        words.append(found.group(1))
        return b't="s"><v>%d</v></c>' % (len(words) - 1)

    sheet = "xl/worksheets/sheet1.xml"
    members[sheet] = re.sub(rb't="inlineStr"><is><t>(.*?)</t></is></c>', index, members[sheet])
    every = b"".join(b"<si><t>%s</t></si>" % word for word in words)
    members[STRINGS] = b'<sst xmlns="%s" count="%d">%s</sst>' % (MAIN.encode(), len(words), every)
    kind = b"http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings"
    relations = "xl/_rels/workbook.xml.rels"
    more = b'<Relationship Type="%s" Target="sharedStrings.xml" Id="rId9"/></Relationships>' % kind
    members[relations] = members[relations].replace(b"</Relationships>", more)
    return members


def unpacked(content: bytes) -> dict[str, bytes]:
    """The members of an archive."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def repacked(members: dict[str, bytes], how: int = zipfile.ZIP_DEFLATED) -> bytes:
    """An archive of the members, the same bytes each time."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", how) as archive:
        for name, content in members.items():
            archive.writestr(zipfile.ZipInfo(name, FIXED), content, how)
    return out.getvalue()


@functools.cache
def whole_ods(cells: str = "") -> bytes:
    """A small OpenDocument sheet; `cells` stands in its last row."""
    rows = "".join(
        "<table:table-row>" + "".join(
            (f'<table:table-cell office:value-type="string"><text:p>{cell}</text:p>'
                f'</table:table-cell>') for cell in row
        ) + "</table:table-row>"
        for row in (HEAD, *ROWS)
    )  # fmt: skip
    space = "urn:oasis:names:tc:opendocument:xmlns"
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="{space}:office:1.0" '
        f'xmlns:table="{space}:table:1.0" xmlns:text="{space}:text:1.0" office:version="1.3"><office:body>'
        f'<office:spreadsheet><table:table table:name="List">{rows}{cells}</table:table></office:spreadsheet>'
        "</office:body></office:document-content>"
    )
    manifest = (
        f'<?xml version="1.0"?><m:manifest xmlns:m="{space}:manifest:1.0"><m:file-entry m:full-path="/" '
        'm:media-type="application/vnd.oasis.opendocument.spreadsheet"/></m:manifest>'
    )
    kind = b"application/vnd.oasis.opendocument.spreadsheet"
    return repacked(
        {"mimetype": kind, "content.xml": content.encode(), "META-INF/manifest.xml": manifest.encode()}
    )


def put(folder: Path, content: bytes, name: str = XLSX, **wants: str) -> Case:
    """The case of the damaged workbook."""
    (folder / name).write_bytes(content)
    return reading(name, **wants)  # type: ignore[arg-type]


def beside(folder: Path, content: bytes, name: str = XLSX) -> str:
    """The whole workbook, beside which rows are counted."""
    (folder / "whole").mkdir()
    (folder / "whole" / name).write_bytes(content)
    return f"whole/{name}"


def cut_off(rng: random.Random, folder: Path) -> Case:
    name, content = rng.choice(((XLSX, whole()), (ODS, whole_ods())))
    return put(folder, cut(rng, content), name, wants="told", whole=beside(folder, content, name))


def bits(rng: random.Random, folder: Path) -> Case:
    """Bits turned over: what is compressed carries a checksum, so lost rows can be told."""
    name, content = rng.choice(((XLSX, whole()), (ODS, whole_ods())))
    return put(folder, flipped(rng, content), name, whole=beside(folder, content, name))


def pieces(rng: random.Random, folder: Path) -> Case:
    name, content = rng.choice(((XLSX, whole()), (ODS, whole_ods())))
    return put(folder, mangled(rng, content), name, whole=beside(folder, content, name))


def changed(member: str, old: bytes, new: bytes) -> bytes:
    """The workbook with words of one member replaced."""
    members = unpacked(whole())
    assert old in members[member], (member, old)
    members[member] = members[member].replace(old, new)
    return repacked(members)


def bomb(rng: random.Random, folder: Path) -> Case:
    """Members that unpack to hundreds of megabytes."""
    members = unpacked(whole())
    name = rng.choice(("xl/worksheets/sheet1.xml", STRINGS, "xl/styles.xml", "xl/media/a.bin"))
    size = rng.choice((450, 200, 60)) * 10**6
    fill = rng.choice((b" ", b"<row/>", b"<si><t>a</t></si>", b"<!-- -->"))
    old = members.get(name, b"</x>")
    at = old.rindex(b"</")
    members[name] = old[:at] + fill * (size // len(fill)) + old[at:]
    return put(folder, repacked(members))


def names_lead_out(rng: random.Random, folder: Path) -> Case:
    members = unpacked(whole())
    for _ in range(rng.randint(1, 4)):
        name = rng.choice(
            (
                "../../evil.xml",
                "/etc/evil",
                "..\\evil",
                "xl/../../evil.xml",
                "C:\\evil",
                "xl/worksheets/../../../e.xml",
                "a" * 60_000,
            )
        )
        members[name] = b"<evil/>"
    if rng.random() < 0.3:
        relations = members["xl/_rels/workbook.xml.rels"]
        members["xl/_rels/workbook.xml.rels"] = relations.replace(
            b"worksheets/sheet1.xml", b"../../../../etc/passwd"
        )
    return put(folder, repacked(members))


def directory_broken(rng: random.Random, folder: Path) -> Case:
    """The archive's list of members at its end says what is not so (APPNOTE 4.3.12, 4.3.16)."""
    raw = bytearray(whole())
    end, first = raw.rindex(b"PK\x05\x06"), raw.index(b"PK\x01\x02")
    place, form = rng.choice((
        (end + 8, "<H"), (end + 10, "<H"), (end + 12, "<I"), (end + 16, "<I"), (end + 20, "<H"),
        (first + 10, "<H"), (first + 8, "<H"), (first + 16, "<I"), (first + 20, "<I"), (first + 24, "<I"),
        (first + 42, "<I"),
    ))  # fmt: skip
    most = 0xFFFF if form == "<H" else 0xFFFFFFFF
    struct.pack_into(form, raw, place, rng.choice((0, 1, 99, most, most - 1, rng.randrange(most))))
    return put(folder, bytes(raw))


def sheet_wrong(rng: random.Random, folder: Path) -> Case:
    """A sheet or its words that are cut, declare entities, or name strings that are not there."""
    member = rng.choice(
        (
            "xl/worksheets/sheet1.xml",
            STRINGS,
            "xl/workbook.xml",
            "[Content_Types].xml",
            "xl/_rels/workbook.xml.rels",
            "xl/styles.xml",
        )
    )
    members = unpacked(whole())
    old = members[member]
    laughs = (
        b'<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;'
        b'&b;&b;&b;">]>'
    )
    members[member] = rng.choice((
        cut(rng, old), flipped(rng, old, 6), b"", b"\0" * 500, laughs + old, old.replace(b"<v>", b"<v>9999"),
        old.replace(b"<v>", b"<v>-"), old.replace(b"<v>", b"<v>1e400"), old.replace(b't="s"', b't="z"'),
        old.replace(b'count="', b'count="99999999999'), old.replace(b' r="', b' r="0'), old * 2,
        old.replace(b"<row", b"<row><row"), old.decode().encode("utf-16"), b"<a>" * 50_000,
    ))  # fmt: skip
    if rng.random() < 0.2:
        del members[member]
    return put(folder, repacked(members))


def far_cell(rng: random.Random, folder: Path) -> Case:
    """A cell in the last column and row there can be, or at a place that is none."""
    place = rng.choice((b"XFD1048576", b"A1048576", b"XFD1", b"XFE9", b"ZZZZ1", b"A0", b"1A", b""))
    return put(folder, changed("xl/worksheets/sheet1.xml", b'r="A3"', b'r="%s"' % place))


def beyond(rng: random.Random, folder: Path) -> Case:
    """A cell in a row of eleven figures, or a column of a dozen letters."""
    row = b"A%d" % rng.randrange(10**10, 10**11)
    column = b"A" * rng.choice((4, 7, 12, 300)) + b"1"
    place = rng.choice((row, column, b"ZZZZ99999999", b"A4294967296", b"A18446744073709551616"))
    return put(folder, changed("xl/worksheets/sheet1.xml", b'r="A3"', b'r="%s"' % place))


def hostile_cells(rng: random.Random, folder: Path) -> Case:
    """Cells with signs, numbers and formulas that nobody expects; one may have 32,767 letters."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    signs = [one for one in HOSTILE if not any(ord(letter) < 32 for letter in one)]
    for row in (HEAD, *ROWS):
        sheet.append([rng.choice(signs)[:32_767] if rng.random() < 0.1 else cell for cell in row])
    sheet["H9"] = rng.choice((1e308, -5, 0.1 + 0.2, True, "x" * 32_767))
    sheet.title = rng.choice(("List", "a" * 31, "=1+1", "..", "\u202eevil"))
    out = io.BytesIO()
    book.save(out)
    return put(folder, out.getvalue())


def repeated_cells(rng: random.Random, folder: Path) -> Case:
    """Cells and rows that are to be repeated a thousand million times (OpenDocument 1.3 part 3, 19.675 and
    19.677)."""
    columns, rows = rng.choice(
        ((1, 10**9), (10**9, 1), (10**9, 10**9), (16_384, 1_048_576), (-1, 1), (200, 200_000))
    )
    cell = rng.choice(("<text:p>M8</text:p>", ""))
    cells = (
        f'<table:table-row table:number-rows-repeated="{rows}"><table:table-cell office:value-type="string" '
        f'table:number-columns-repeated="{columns}">{cell}</table:table-cell></table:table-row>'
    )
    return put(folder, whole_ods(cells), ODS)


def no_workbook(rng: random.Random, folder: Path) -> Case:
    """Something else with a workbook's name; an OLE file is what a locked XLSX is."""
    ole = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(16) + rng.randbytes(rng.choice((40, 600, 5000)))
    content = rng.choice((
        b"", b"PK\x05\x06" + bytes(18), rng.randbytes(4000), ole, repacked({"a.txt": b"hello"}),
        b"%PDF-1.7\n" * 30,
        repacked({"mimetype": b"application/vnd.oasis.opendocument.text"}),
        b"<html><table><tr><td>1</td></tr></table></html>",
        ole[:24] + bytes([0xFE, 0xFF, 9, 0, 6, 0]) + bytes(2000), repacked({"EncryptedPackage": b"x" * 100}),
    ))  # fmt: skip
    name = rng.choice(("list.xlsx", "list.xlsm", "list.xls", "list.xlsb", "list.ods"))
    return put(folder, content, name, wants="refused")


KINDS = (
    Kind("book_cut_off", cut_off), Kind("book_bits", bits), Kind("book_pieces", pieces), Kind("book_bomb",
    bomb, True),
    Kind("book_names_lead_out", names_lead_out), Kind("book_directory", directory_broken),
    Kind("book_sheet_wrong", sheet_wrong), Kind("book_far_cell", far_cell), Kind("book_beyond", beyond),
    Kind("book_hostile_cells", hostile_cells), Kind("book_repeated", repeated_cells, True),
    Kind("book_no_workbook", no_workbook),
)  # fmt: skip
