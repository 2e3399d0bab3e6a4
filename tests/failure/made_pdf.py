"""Small PDF files made for the tests, byte by byte, so that each says exactly what a test needs.

Syntax: ISO 32000-1, 7.5 (file structure), 7.7.3 (pages), 9.4 (text).
"""

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

import typst


class Page(NamedTuple):
    """One page: its content stream, and entries for its dictionary such as `/Rotate 90`."""

    content: bytes
    entries: str = ""


def text_at(x: float, y: float, text: str, size: float = 12) -> bytes:
    """Content that shows the text with its baseline's left end at x, y."""
    return f"BT /F1 {size} Tf {x} {y} Td ({text}) Tj ET\n".encode()


def made_pdf(path: Path, pages: Sequence[Page], trailer: str = "", font: str = "") -> Path:
    """Write a whole, valid PDF with the pages, in Helvetica unless another font dictionary is given."""
    font = font or "/Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding"
    kids = " ".join(f"{4 + 2 * n} 0 R" for n in range(len(pages)))
    objects = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        f"<< /Type /Pages /Kids [{kids}] /Count {len(pages)} >>".encode(),
        f"<< {font} >>".encode(),
    ]
    for number, page in enumerate(pages):
        box = "" if "/MediaBox" in page.entries else "/MediaBox [0 0 400 600]"
        objects.append(
            f"<< /Type /Page /Parent 2 0 R {box} {page.entries} "
            f"/Resources << /Font << /F1 3 0 R >> >> /Contents {5 + 2 * number} 0 R >>".encode()
        )
        objects.append(b"<< /Length %d >>\nstream\n%s\nendstream" % (len(page.content), page.content))
    body = b"%PDF-1.7\n"
    places = []
    for number, item in enumerate(objects, start=1):
        places.append(len(body))
        body += b"%d 0 obj\n%s\nendobj\n" % (number, item)
    start = len(body)
    body += b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    body += b"".join(b"%010d 00000 n \n" % place for place in places)
    body += (
        f"trailer\n<< /Size {len(objects) + 1} /Root 1 0 R {trailer} >>\nstartxref\n{start}\n%%EOF\n".encode()
    )
    path.write_bytes(body)
    return path


def locked_pdf(path: Path) -> Path:
    """A PDF whose empty password does not fit (standard security handler, ISO 32000-1, 7.6.3)."""
    entries = f"/Filter /Standard /V 1 /R 2 /P -44 /O <{'5a' * 32}> /U <{'a5' * 32}>"
    return made_pdf(path, [Page(text_at(50, 500, "secret"))], f"/Encrypt << {entries} >> /ID [<00> <00>]")


def typeset_pdf(path: Path, markup: str) -> Path:
    """A PDF written by a typesetting program: compressed streams and subset fonts."""
    typst.compile(markup.encode(), output=str(path))
    return path
