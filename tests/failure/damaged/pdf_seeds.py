"""Small whole PDF files to damage: some written by reportlab, some object by object (ISO 32000-1, 7.5 and
7.7.3).

All content is invented.
"""

import functools
import io
import zlib

from reportlab import rl_config
from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.pdfgen import canvas

PAGES = (
    (
        (18, "4 Cover"),
        (14, "4.1 Removal of the cover"),
        (11, "1. Remove the 2 screws M8x70."),
        (11, "2. Lift off the cover (see 5.1)."),
        (14, "4.2 Installation of the cover"),
        (11, "1. Put on the cover."),
        (11, "2. Tighten the 2 screws M8x70 to 24 Nm."),
    ),
    (
        (18, "5 Pump"),
        (14, "5.1 Removal of the pump"),
        (11, "1. Remove the 4 nuts M6 and the washers."),
        (11, "2. Lift off the pump."),
    ),
    (
        (18, "6 Case"),
        (14, "6.1 Separating the case"),
        (11, "1. Remove the cover (see 4.1)."),
        (11, "2. Remove the 7 screws M6x45."),
        (11, "3. Pull off the case half."),
    ),
)
STEPS = sum(text[:2].rstrip(".").isdigit() and text[1] == "." for page in PAGES for _, text in page)


@functools.cache
def printed(packed: bool = True, ascii85: bool = False, password: str = "") -> bytes:
    """The pages as reportlab writes them."""
    rl_config.useA85 = int(ascii85)
    out = io.BytesIO()
    lock = StandardEncryption(password, ownerPassword="owner", strength=128) if password else None
    sheet = canvas.Canvas(
        out, pagesize=(400, 600), pageCompression=int(packed), invariant=1, encrypt=lock
    )  # fmt: skip
    sheet.setTitle("Workshop manual of the invented winch")
    for page in PAGES:
        sheet.bookmarkPage(page[0][1])
        sheet.addOutlineEntry(page[0][1], page[0][1])
        for line, (size, text) in enumerate(page):
            sheet.setFont("Helvetica", size)
            sheet.drawString(50, 560 - 26 * line, text)
        sheet.showPage()
    sheet.save()
    return out.getvalue()


def stream(content: bytes, entries: str = "", *, packed: bool = False) -> bytes:
    """A stream object's body."""
    if packed:
        content, entries = zlib.compress(content, 6), f"/Filter /FlateDecode {entries}"
    return b"<< /Length %d %s >>\nstream\n%s\nendstream" % (len(content), entries.encode(), content)


def words(number: int) -> bytes:
    """The content stream of a page."""
    shown = [
        f"BT /F1 {size} Tf 50 {560 - 26 * line} Td ({text.replace('(', '[').replace(')', ']')}) Tj ET\n"
        for line, (size, text) in enumerate(PAGES[number])
    ]
    return "".join(shown).encode()


CATALOG, TREE, FONT, FIRST = 1, 2, 3, 4
"""Object numbers; page `n` (from 0) is FIRST + 2 n, its content the next."""


def objects(packed: bool = False) -> dict[int, bytes]:
    """The objects of a manual with the three pages, by number; to be changed before it is assembled."""
    found = {
        CATALOG: b"<< /Type /Catalog /Pages 2 0 R >>",
        TREE: b"<< /Type /Pages /Kids [4 0 R 6 0 R 8 0 R] /Count 3 >>",
        FONT: b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>",
    }
    for number in range(3):
        found[FIRST + 2 * number] = page(FIRST + 2 * number + 1)
        found[FIRST + 2 * number + 1] = stream(words(number), packed=packed)
    return found


def page(content: int, entries: str = "/MediaBox [0 0 400 600]", resources: str = "") -> bytes:
    """A page whose content is the object of that number."""
    return (
        f"<< /Type /Page /Parent 2 0 R {entries} /Resources << /Font << /F1 3 0 R >> {resources} >> "
        f"/Contents {content} 0 R >>"
    ).encode()


def assembled(found: dict[int, bytes], trailer: str = "", head: bytes = b"%PDF-1.7\n") -> bytes:
    """The objects as a file with its table of offsets."""
    parts, places, at = [head], {}, len(head)
    for number, item in found.items():
        places[number] = at
        parts.append(b"%d 0 obj\n%s\nendobj\n" % (number, item))
        at += len(parts[-1])
    body = b"".join(parts)
    start, size = len(body), max(found) + 1
    lines = [b"xref\n0 %d\n0000000000 65535 f \n" % size]
    for number in range(1, size):
        lines.append(
            b"%010d 00000 n \n" % places[number] if number in places else b"0000000000 65535 f \n"
        )  # fmt: skip
    end = f"trailer\n<< /Size {size} /Root 1 0 R {trailer} >>\nstartxref\n{start}\n%%EOF\n"
    return body + b"".join(lines) + end.encode()
