"""PDF files whose pages hurt whoever draws or unpacks them: bombs, pictures without end, broken fonts and
filters.

ISO 32000-1: 7.4 (filters), 8.9.5 (image dictionaries), 8.10 (form XObjects), 9.10.3 (ToUnicode).
"""

import functools
import random
import zlib
from pathlib import Path

from failure.damaged.cases import Case, Kind
from failure.damaged.pdf_bytes import beside, put
from failure.damaged.pdf_objects import SECOND
from failure.damaged.pdf_seeds import FONT, assembled, objects, page, stream, words

SIDE = 10_000


@functools.cache
def packed_zeros(count: int, layers: int = 1) -> bytes:
    """So many zeros, compressed so many times."""
    content = bytes(count)
    for _ in range(layers):
        content = zlib.compress(content, 9)
    return content


def showing(picture: bytes, entries: str, *, alone: bool = False) -> dict[int, bytes]:
    """The manual with the picture on its second page."""
    found = objects()
    found[20] = b"<< /Type /XObject /Subtype /Image %s /Length %d >>\nstream\n%s\nendstream" % (
        entries.encode(), len(picture), picture,
    )  # fmt: skip
    found[SECOND] = page(SECOND + 1, resources="/XObject << /I 20 0 R >>")
    found[SECOND + 1] = stream((b"" if alone else words(1)) + b"q 400 0 0 600 0 0 cm /I Do Q\n")
    return found


def huge_picture(rng: random.Random, folder: Path) -> Case:
    """10,000 x 10,000 points, all white or black; alone on its page it looks like a scan."""
    colours, layers = rng.choice(((1, 1), (1, 2), (3, 1)))
    deep = rng.choice((1, 8)) if colours == 1 else 8
    size = SIDE * SIDE * colours * deep // 8
    entries = (
        f"/Width {SIDE} /Height {SIDE} /BitsPerComponent {deep} /Filter [{'/FlateDecode ' * layers}] "
        f"/ColorSpace /{'DeviceGray' if colours == 1 else 'DeviceRGB'}"
    )
    return put(folder, assembled(showing(packed_zeros(size, layers), entries, alone=rng.random() < 0.5)))


def picture_lies(rng: random.Random, folder: Path) -> Case:
    """Measures that the picture's bytes do not have."""
    odd = (0, 1, -1, 10, 65_535, 100_000, 2_147_483_647, 4_294_967_296)
    colours = rng.choice((
        "/DeviceGray", "/DeviceCMYK", "/Nobody", "null", "[/Indexed /DeviceRGB 99999 (x)]",
        "[/ICCBased 20 0 R]",
    ))  # fmt: skip
    form = rng.choice(
        ("/FlateDecode", "/DCTDecode", "/JPXDecode", "/JBIG2Decode", "/CCITTFaxDecode", "/RunLengthDecode")
    )
    entries = (
        f"/Width {rng.choice(odd)} /Height {rng.choice(odd)} /BitsPerComponent "
        f"{rng.choice((1, 8, 16, 0, 77))} "
        f"/ColorSpace {colours} /Filter {form} "
        f"{rng.choice(('', '/SMask 20 0 R', '/Mask 20 0 R', '/Decode [9 -9]'))}"
    )
    picture = rng.choice(
        (rng.randbytes(300), packed_zeros(1000), b"", b"\xff\xd8\xff\xc0\0\x11\x08\xff\xff\xff\xff\x03")
    )
    return put(folder, assembled(showing(picture, entries, alone=rng.random() < 0.3)))


def stream_bomb(rng: random.Random, folder: Path) -> Case:
    """Content that unpacks to a thousand times its size, once, twice or three times compressed."""
    count, layers = rng.choice(((50 * 2**20, 1), (200 * 2**20, 2), (500 * 2**20, 2), (500 * 2**20, 3)))
    found = objects()
    bomb = packed_zeros(count, layers)
    found[SECOND + 1] = b"<< /Length %d /Filter [%s] >>\nstream\n%s\nendstream" % (
        len(bomb), b"/FlateDecode " * layers, bomb,
    )  # fmt: skip
    if rng.random() < 0.3:
        found[FONT] = found[FONT].replace(b"/Type /Font ", b"/Type /Font /ToUnicode 7 0 R ")
    return put(folder, assembled(found))


def long_string(rng: random.Random, folder: Path) -> Case:
    """A string of 100 MB: in the page, in the title, as a name."""
    found, long = objects(), b"screw M8 " * (100 * 10**6 // 9)
    place = rng.choice(("shown", "title", "name", "packed"))
    if place in {"shown", "packed"}:
        found[SECOND + 1] = stream(b"BT /F1 9 Tf 50 500 Td (%s) Tj ET" % long, packed=place == "packed")
    elif place == "name":
        found[20] = b"/" + long.replace(b" ", b"")
    else:
        found[20] = b"<< /Title (%s) >>" % long
    return put(folder, assembled(found, "/Info 20 0 R" if place == "title" else ""))


def much_text(rng: random.Random, folder: Path) -> Case:
    """A page with more words than any page has, or all of them in one place."""
    count = rng.choice((2000, 8000, 20_000))
    spread = rng.random() < 0.5
    lines = (
        f"BT /F1 {1 if spread else 9} Tf {n % 380 if spread else 50} {n % 590 if spread else 300} Td "
        f"(M8) Tj ET\n"
        for n in range(count)
    )
    found = objects()
    found[SECOND + 1] = stream("".join(lines).encode(), packed=True)
    return put(folder, assembled(found))


def much_drawn(rng: random.Random, folder: Path) -> Case:
    """Lines, boxes and clips by the hundred thousand."""
    one = rng.choice(
        (b"0 0 m 400 600 l S\n", b"1 1 9 9 re f\n", b"0 0 400 600 re W n\n", b"0 0 m 9 9 9 0 0 9 c h f*\n")
    )
    found = objects()
    found[SECOND + 1] = stream(one * rng.choice((3000, 20_000, 60_000)) + words(1), packed=True)
    return put(folder, assembled(found))


def states_without_end(rng: random.Random, folder: Path) -> Case:
    """States and text objects that are opened and never closed, or closed before."""
    one = rng.choice(
        (b"q ", b"Q ", b"BT ", b"ET ", b"/P << /MCID 0 >> BDC ", b"EMC ", b"BI ", b"q 1 0 0 1 1 1 cm ")
    )
    found = objects()
    found[SECOND + 1] = stream(one * rng.choice((10, 1000, 100_000)) + words(1))
    return put(folder, assembled(found))


def forms_in_forms(rng: random.Random, folder: Path) -> Case:
    """Forms that draw themselves, or each the next one ten times."""
    found, depth = objects(), rng.choice((1, 2, 6, 40))
    for number in range(20, 20 + depth):
        following = number + 1 if number + 1 < 20 + depth else rng.choice((20, number))
        entries = (
            f"/Type /XObject /Subtype /Form /BBox [0 0 400 600] /Resources << /XObject << /N "
            f"{following} 0 R >> >>"
        )
        found[number] = stream(b"/N Do\n" * rng.choice((1, 2, 10)), entries)
    found[SECOND] = page(SECOND + 1, resources="/XObject << /N 20 0 R >>")
    found[SECOND + 1] = stream(words(1) + b"/N Do\n")
    return put(folder, assembled(found))


def fonts_broken(rng: random.Random, folder: Path) -> Case:
    """Fonts whose widths, encodings, files or letters are not what they say."""
    found = objects()
    found[20] = stream(
        rng.choice((rng.randbytes(2000), b"", b"OTTO" + rng.randbytes(400), packed_zeros(10**6)))
    )
    found[21] = stream(rng.choice((
        b"begincmap 1 begincodespacerange <00> <ff> endcodespacerange 1 beginbfrange <00> <ffffffff> <0041> "
        b"endbfrange endcmap",
        b"begincmap 99999999 beginbfchar " + b"<41> <0042> " * 5000, rng.randbytes(500),
        b"1 beginbfchar <31> <" + b"0041" * 20_000 + b"> endbfchar", b"usecmap /A usecmap",
    )))  # fmt: skip
    found[22] = (
        b"<< /Type /FontDescriptor /FontName /A /FontFile2 20 0 R /Flags 4 /FontBBox [nan 0 0 1e30] >>"
    )
    more = rng.choice((
        "/FontDescriptor 22 0 R", "/ToUnicode 21 0 R", "/Widths 3 0 R /FirstChar -5 /LastChar 2147483647",
        "/Widths [(a) null [1]] /FirstChar 0 /LastChar 255",
        "/Encoding << /Differences [0 /A 999999 /B (x)] >>",
        "/Subtype /Type0 /DescendantFonts [3 0 R] /Encoding /Identity-H", "/BaseFont 3 0 R",
        "/Encoding 3 0 R",
        "/Subtype /Type3 /CharProcs << /a 7 0 R >> /FontMatrix [0 0 0 0 0 0] /FontBBox [0 0 0 0]",
    ))  # fmt: skip
    found[FONT] = f"<< {more} /Type /Font /Subtype /TrueType /BaseFont /A >>".encode()
    return put(folder, assembled(found))


def filters_wrong(rng: random.Random, folder: Path) -> Case:
    """Filters that do not fit, follow each other by the hundred, or take absurd parameters."""
    content = rng.choice((words(1), zlib.compress(words(1)), rng.randbytes(400)))
    names = (
        "ASCII85Decode",
        "ASCIIHexDecode",
        "LZWDecode",
        "RunLengthDecode",
        "FlateDecode",
        "Crypt",
        "Nobody",
        "DCTDecode",
    )
    chain = " ".join(f"/{rng.choice(names)}" for _ in range(rng.choice((1, 2, 30, 500))))
    odd = rng.choice((0, -1, 10**9, 2**31 - 1, 255))
    parms = rng.choice(
        ("", f"/DecodeParms << /Predictor {odd} /Columns {odd} /Colors {odd} /BitsPerComponent {odd} >>")
    )
    found = objects()
    found[SECOND + 1] = stream(content, f"/Filter [{chain}] {parms}")
    whole = beside(folder, assembled(objects()))
    return put(folder, assembled(found), whole=whole)


KINDS = (
    Kind("pdf_huge_picture", huge_picture, True), Kind("pdf_picture_lies", picture_lies),
    Kind("pdf_stream_bomb", stream_bomb, True), Kind("pdf_long_string", long_string, True),
    Kind("pdf_much_text", much_text, True), Kind("pdf_much_drawn", much_drawn, True),
    Kind("pdf_states", states_without_end), Kind("pdf_forms", forms_in_forms), Kind("pdf_fonts",
    fonts_broken),
    Kind("pdf_filters", filters_wrong),
)  # fmt: skip
