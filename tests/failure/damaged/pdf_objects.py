"""PDF files whose objects lead in circles, stand too deep in each other, or claim what cannot be.

ISO 32000-1: 7.5.7 (object streams), 7.5.8 (reference streams), 7.6 (encryption), 7.7.3 (pages), 12.3.3
(outline).
"""

import random
import struct
from pathlib import Path

from failure.damaged.cases import Case, Kind
from failure.damaged.pdf_bytes import beside, put
from failure.damaged.pdf_seeds import CATALOG, FIRST, FONT, TREE, assembled, objects, page, printed, stream

SECOND = FIRST + 2
"""The page between two good ones."""


def object_loop(rng: random.Random, folder: Path) -> Case:
    """An object that is its own value, by one or two steps."""
    found = objects()
    found[20], found[21] = b"21 0 R", b"20 0 R"
    loop = rng.choice(("20 0 R", "22 0 R"))
    found[22] = b"22 0 R"
    place = rng.choice(("length", "content", "font", "box", "resources", "rotate", "info"))
    if place == "length":
        found[SECOND + 1] = found[SECOND + 1].replace(b"/Length ", b"/Length %s /Was " % loop.encode(), 1)
    elif place == "content":
        found[SECOND] = found[SECOND].replace(b"7 0 R", rng.choice((loop.encode(), b"[6 0 R 7 0 R 6 0 R]")))
    elif place == "font":
        found[FONT] = loop.encode()
    elif place == "box":
        found[SECOND] = page(SECOND + 1, f"/MediaBox {loop}")
    elif place == "resources":
        found[SECOND] = found[SECOND].replace(b"/Font <<", b"/Font %s /Was <<" % loop.encode())
    elif place == "rotate":
        found[SECOND] = page(SECOND + 1, f"/MediaBox [0 0 400 600] /Rotate {loop}")
    return put(folder, assembled(found, f"/Info {loop}" if place == "info" else ""))


def tree_loop(rng: random.Random, folder: Path) -> Case:
    """A page tree one of whose children is the tree, or a page among its own children."""
    found = objects()
    kids = rng.choice((
        "4 0 R 2 0 R 8 0 R", "2 0 R", "2 0 R 2 0 R 2 0 R", "4 0 R 20 0 R 8 0 R", "4 0 R 4 0 R 4 0 R",
        "4 0 R 1 0 R 8 0 R", "4 0 R null 8 0 R", "4 0 R 7 0 R 8 0 R",
    ))  # fmt: skip
    found[TREE] = f"<< /Type /Pages /Kids [{kids}] /Count {rng.choice((3, 3, 1, 40))} >>".encode()
    found[20] = b"<< /Type /Pages /Parent 2 0 R /Kids [2 0 R 20 0 R 6 0 R] /Count 3 >>"
    found[SECOND] = page(SECOND + 1, f"/MediaBox [0 0 400 600] {rng.choice(('', '/Kids [6 0 R]'))}")
    return put(folder, assembled(found))


def tree_deep(rng: random.Random, folder: Path) -> Case:
    """A page below thousands of nodes with one child each."""
    found, depth = objects(), rng.choice((50, 500, 1100, 5000, 20_000))
    for number in range(30, 30 + depth):
        child = number + 1 if number + 1 < 30 + depth else SECOND
        found[number] = b"<< /Type /Pages /Parent %d 0 R /Kids [%d 0 R] /Count 1 >>" % (number - 1, child)
    found[TREE] = b"<< /Type /Pages /Kids [4 0 R 30 0 R 8 0 R] /Count 3 >>"
    return put(folder, assembled(found))


def counts_absurd(rng: random.Random, folder: Path) -> Case:
    found = objects()
    count = rng.choice((-1, 0, 1, 4, 100, 65_536, 1_000_000, 2_147_483_647, 4_294_967_297, 10**30))
    found[TREE] = f"<< /Type /Pages /Kids [4 0 R 6 0 R 8 0 R] /Count {count} >>".encode()
    return put(folder, assembled(found), whole=beside(folder, assembled(objects())))


def no_pages(rng: random.Random, folder: Path) -> Case:
    found = objects()
    found[TREE] = rng.choice((
        b"<< /Type /Pages /Kids [] /Count 0 >>", b"<< /Type /Pages /Count 0 >>", b"null", b"[]",
        b"<< /Type /Pages /Kids [90 0 R 91 0 R] /Count 2 >>", b"<< /Type /Pages /Kids null /Count 0 >>",
    ))  # fmt: skip
    if rng.random() < 0.4:
        found[CATALOG] = rng.choice((b"<< /Type /Catalog >>", b"null", b"<< >>"))
    for number in range(FIRST, FIRST + 6):
        del found[number]
    return put(folder, assembled(found), wants="told")


def boxes_absurd(rng: random.Random, folder: Path) -> Case:
    """Page boxes without area, endless, turned round, or of things that are no numbers."""
    found = objects()
    box = rng.choice((
        "[0 0 0 0]", "[0 0 -400 -600]", "[400 600 0 0]", "[0 0 1e30 1e30]", "[0 0 1e-9 1e-9]", "[0 0 400]",
        "[nan nan nan nan]", "[0 0 NaN inf]", "[]", "null", "(box)", "[-99999999999 0 99999999999 9]",
        "[0 0 2147483648 2147483648]", "[0 0 400 600 800 900]", "[[0 0] [400 600]]", "[0 0 0.0000001 600]",
        "[0 0 14401 14401]", "[0 0 999999 999999]",
    ))  # fmt: skip
    which = rng.choice(("MediaBox", "CropBox"))
    more = f" /Rotate {rng.choice((45, -90, 1e10, 'x', 270))} /UserUnit {rng.choice((0, -1, 1e9, 'nan', 2))}"
    whole_box = "/MediaBox [0 0 400 600] " if which == "CropBox" else ""
    found[SECOND] = page(SECOND + 1, f"{whole_box}/{which} {box}{more if rng.random() < 0.4 else ''}")
    return put(folder, assembled(found))


def numbers_absurd(rng: random.Random, folder: Path) -> Case:
    """Operators whose numbers are none, or beyond those of any page."""
    odd = (
        "nan",
        "-nan",
        "inf",
        "1e999",
        "--5",
        "+-3",
        "99999999999999999999999",
        ".",
        "-",
        "1.2.3",
        "0x7f",
        "1E5",
    )
    lines = [
        f"BT /F1 {rng.choice(odd)} Tf {rng.choice(odd)} {rng.choice(odd)} Td (2 screws M8) Tj ET\n"
        f"{rng.choice(odd)} 0 0 {rng.choice(odd)} {rng.choice(odd)} 0 cm\n"
        f"{rng.choice(odd)} {rng.choice(odd)} m {rng.choice(odd)} {rng.choice(odd)} l S\n"
        for _ in range(rng.choice((1, 5, 60)))
    ]
    found = objects()
    good = found[SECOND + 1].partition(b"stream\n")[2].rpartition(b"\nendstream")[0]
    found[SECOND + 1] = stream("".join(lines).encode() + good)
    return put(folder, assembled(found))


def deep_nesting(rng: random.Random, folder: Path) -> Case:
    """Arrays and dictionaries within each other by the ten thousand."""
    found, depth = objects(), rng.choice((60, 600, 10_000, 200_000))
    begins, ends = rng.choice(
        ((b"[", b"]"), (b"<< /A ", b" >>"), (b"[<< /A ", b" >>]"), (b"[", b""), (b"(", b")"))
    )
    deep = begins * depth + b"0" + ends * depth
    place = rng.choice(("page", "info", "content", "alone"))
    found[20] = deep if place == "alone" else b"null"
    if place == "page":
        found[SECOND] = found[SECOND].replace(b"/Type /Page ", b"/Type /Page /Deep " + deep + b" ")
    elif place == "content":
        good = found[SECOND + 1].partition(b"stream\n")[2].rpartition(b"\nendstream")[0]
        found[SECOND + 1] = stream(deep + b" TJ\n" + good)
    more = "/Info 20 0 R" if place != "info" else f"/Info << /Title {deep.decode()} >>"
    return put(folder, assembled(found, more))


def locked(rng: random.Random, folder: Path) -> Case:
    """A password that nobody gave, or an encryption that is broken."""
    if rng.random() < 0.4:
        return put(folder, printed(password=rng.choice(("secret", "a", "x" * 32))), wants="refused")
    entries = rng.choice((
        f"/Filter /Standard /V 1 /R 2 /P -44 /O <{'5a' * 32}> /U <{'a5' * 32}>",
        f"/Filter /Standard /V 5 /R 6 /P -44 /O <{'5a' * 48}> /U <{'a5' * 48}> /OE <00> /UE <00> /Perms <00>",
        "/Filter /Standard /V 4 /R 4 /CF << /StdCF << /CFM /AESV2 /Length 999999 >> >> /StmF /StdCF",
        "/Filter /Standard", "/Filter /Nobody.Knows /V 1", "/Filter /Standard /V 99 /R 99 /Length -8",
        f"/Filter /Standard /V 2 /R 3 /Length 2147483647 /P 0 /O <{'00' * 32}> /U <{'00' * 32}>",
    ))  # fmt: skip
    return put(folder, assembled(objects(), f"/Encrypt << {entries} >> /ID [<00> <00>]"), wants="refused")


def side_loops(rng: random.Random, folder: Path) -> Case:
    """Outline, names, labels, fields and notes that lead in circles; the pages themselves are whole."""
    found = objects()
    found[20] = (
        b"<< /First 20 0 R /Last 20 0 R /Next 20 0 R /Prev 20 0 R /Parent 20 0 R /Count 999999 /Title (x) >>"
    )
    found[21] = b"<< /Kids [21 0 R 21 0 R] /Nums [0 21 0 R 1 << /S /D /St 2147483647 >>] /Limits [(a) (z)] >>"
    found[22] = (
        b"<< /Subtype /Widget /FT /Tx /Parent 22 0 R /Kids [22 0 R] /Rect [0 0 50 50] /T (a) /AP << /N "
        b"22 0 R >> >>"
    )
    found[23] = b"<< /Type /Annot /Subtype /Popup /Parent 24 0 R /Rect [0 0 9 9] /Popup 24 0 R >>"
    found[24] = (
        b"<< /Type /Annot /Subtype /Text /Popup 23 0 R /IRT 24 0 R /Rect [nan 0 9 9] /Contents (see 4.1) >>"
    )
    extra = rng.choice((
        "/Outlines 20 0 R", "/PageLabels 21 0 R", "/Names << /Dests 21 0 R /EmbeddedFiles 21 0 R >>",
        "/AcroForm << /Fields [22 0 R 22 0 R] /XFA 21 0 R >>", "/Pages 2 0 R /StructTreeRoot 21 0 R",
        "/OpenAction << /S /JavaScript /JS (while(1){}) /Next 20 0 R >>",
        "/Dests 21 0 R /OCProperties 21 0 R",
    ))  # fmt: skip
    found[CATALOG] = f"<< /Type /Catalog /Pages 2 0 R {extra} >>".encode()
    notes = rng.choice(("", "/Annots [22 0 R]", "/Annots [23 0 R 24 0 R]", "/Annots 24 0 R"))
    found[SECOND] = page(SECOND + 1, f"/MediaBox [0 0 400 600] {notes}")
    return put(folder, assembled(found), whole=beside(folder, assembled(objects())))


def reference_streams(rng: random.Random, folder: Path) -> Case:
    """A reference stream (PDF 1.5) whose widths and sections are absurd, and object streams in circles."""
    found = objects()
    found[20] = stream(b"21 0 22 3 " + b"<< >> << >>", "/Type /ObjStm /N 2 /First 10 /Extends 20 0 R")
    body = assembled(found).rpartition(b"xref\n0")[0]
    body = body[: body.rindex(b"endobj\n") + 7]
    entry = rng.choice(
        ("[1 2 1]", "[0 0 0]", "[8 8 8]", "[-1 2 1]", "[1 2147483647 1]", "[1]", "[1 4 2]", "null")
    )
    index = rng.choice(("", "/Index [0 2147483647]", "/Index [-5 10]", "/Index [0]", "/Index [20 20]"))
    size = rng.choice((24, 0, 2_147_483_647, -1))
    table = b"".join(struct.pack(">BHB", rng.choice((0, 1, 2)), rng.randrange(65536), 0) for _ in range(24))
    start = len(body)
    loop = rng.choice(("", f"/Prev {start}"))
    xref = stream(
        table, f"/Type /XRef /W {entry} {index} /Size {size} /Root 1 0 R {loop}", packed=rng.random() < 0.5
    )
    return put(folder, body + b"23 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF\n" % (xref, start))


def one_page_often(rng: random.Random, folder: Path) -> Case:
    """The same page by the hundred: long, and never longer than its pages allow."""
    found = objects()
    times = rng.choice((30, 120, 250))
    found[TREE] = f"<< /Type /Pages /Kids [4 0 R {'6 0 R ' * times}8 0 R] /Count {times + 2} >>".encode()
    return put(folder, assembled(found))


KINDS = (
    Kind("pdf_object_loop", object_loop), Kind("pdf_tree_loop", tree_loop), Kind("pdf_tree_deep", tree_deep),
    Kind("pdf_counts", counts_absurd), Kind("pdf_no_pages", no_pages), Kind("pdf_boxes", boxes_absurd),
    Kind("pdf_numbers", numbers_absurd), Kind("pdf_deep", deep_nesting), Kind("pdf_locked", locked),
    Kind("pdf_side_loops", side_loops), Kind("pdf_reference_streams", reference_streams),
    Kind("pdf_one_page_often", one_page_often, True),
)  # fmt: skip
