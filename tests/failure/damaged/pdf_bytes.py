"""PDF files whose bytes are damaged: cut off, bits turned over, pieces lost, the table of offsets wrong."""

import functools
import random
import re
import sys
import tempfile
from pathlib import Path

from failure.damaged.cases import Case, Kind, cut, flipped, mangled, reading
from failure.damaged.pdf_seeds import assembled, objects, printed

ROOT = Path(__file__).parents[3]
NAME = "manual.pdf"


def seed(rng: random.Random) -> bytes:
    """One of the whole files."""
    return rng.choice((
        printed(packed=True), printed(packed=False), printed(ascii85=True),
        assembled(objects()), assembled(objects(packed=True)),
    ))  # fmt: skip


@functools.cache
def demo_manual() -> bytes:
    """The manual of the small demo machine."""
    if str(ROOT) not in sys.path:
        sys.path.insert(0, str(ROOT))
    from demo.small.generate import generate

    with tempfile.TemporaryDirectory() as folder:
        generate(Path(folder))
        return (Path(folder) / NAME).read_bytes()


def put(folder: Path, content: bytes, **wants: str) -> Case:
    """The case of the damaged manual."""
    (folder / NAME).write_bytes(content)
    return reading(NAME, **wants)  # type: ignore[arg-type]


def beside(folder: Path, whole: bytes) -> str:
    """The whole file, beside which the damaged one's facts are counted."""
    (folder / "whole").mkdir()
    (folder / "whole" / NAME).write_bytes(whole)
    return f"whole/{NAME}"


def cut_off(rng: random.Random, folder: Path) -> Case:
    """Cut anywhere: a file without its end is damaged for all to see."""
    whole = seed(rng)
    return put(folder, cut(rng, whole.rstrip(), 1), wants="told", whole=beside(folder, whole))


def cut_in_front(rng: random.Random, folder: Path) -> Case:
    whole = seed(rng)
    return put(folder, whole[rng.randint(1, len(whole) - 1) :])


def bits(rng: random.Random, folder: Path) -> Case:
    return put(folder, flipped(rng, seed(rng)))


def bits_in_packed(rng: random.Random, folder: Path) -> Case:
    """Inside a compressed stream: its checksum (RFC 1950) does not fit any more."""
    whole = assembled(objects(packed=True))
    places = [m.span(1) for m in re.finditer(rb"stream\n(.*?)\nendstream", whole, re.DOTALL)]
    start, end = rng.choice(places)
    harmed = whole[:start] + flipped(rng, whole[start:end], 3) + whole[end:]
    if harmed == whole:
        return bits_in_packed(rng, folder)
    return put(folder, harmed, wants="told", whole=beside(folder, whole))


def pieces(rng: random.Random, folder: Path) -> Case:
    return put(folder, mangled(rng, seed(rng)))


def offsets_wrong(rng: random.Random, folder: Path) -> Case:
    """The table of offsets points elsewhere; the objects themselves are whole."""
    whole = seed(rng)

    def wrong(found: re.Match[bytes]) -> bytes:
        other = (0, 7, int(found.group(1)) + 1, len(whole), 9_999_999_999)
        return b"%010d 00000 n" % rng.choice(other)

    return put(folder, re.sub(rb"(\d{10}) 00000 n", wrong, whole), whole=beside(folder, whole))


def start_wrong(rng: random.Random, folder: Path) -> Case:
    """`startxref` leads nowhere, or is not there."""
    whole = seed(rng)
    other = rng.choice((
        b"startxref\n-1\n", b"startxref\n99999999999999999999\n", b"startxref\n0\n", b"startxref\nNaN\n",
        b"", b"startxref\n%d\n" % (len(whole) - 3), b"startxref\n" * 400,
    ))  # fmt: skip
    return put(folder, re.sub(rb"startxref\n\d+\n", other, whole), whole=beside(folder, whole))


def trailer_wrong(rng: random.Random, folder: Path) -> Case:
    """Tables that name themselves as the one before, or a root that is none."""
    start = assembled(objects()).index(b"xref\n0")
    more = rng.choice((
        f"/Prev {start}", "/Prev 0", "/Prev -5", "/Prev 99999999999", f"/XRefStm {start}", "/Prev /Prev",
        "/Size 0", "/Size 2147483647", "/Size -1", "/Root 99 0 R", "/Root 4 0 R", "/Root null",
    ))  # fmt: skip
    return put(folder, assembled(objects(), more))


def junk_around(rng: random.Random, folder: Path) -> Case:
    whole = seed(rng)
    before = rng.randbytes(rng.choice((0, 1, 500, 1023, 1030, 5000)))
    return put(folder, before + whole + rng.randbytes(rng.choice((0, 10, 3000))))


def no_pdf(rng: random.Random, folder: Path) -> Case:
    """Something else with the name of a PDF."""
    other = rng.choice((
        b"", b"\n", b"%PDF-", b"%PDF-1.7\n", b"%PDF-1.7\n%%EOF\n", b"%PDF-9.9\ntrailer<</Root 1 0 R>>",
        b"\x89PNG\r\n\x1a\n" + rng.randbytes(400), b"PK\x03\x04" + rng.randbytes(400), rng.randbytes(5000),
        b"<html><body>404</body></html>", b"1. Remove the cover.\n" * 50, b"\0" * 10_000,
        b"%PDF-1.7\n" * 9000,
    ))  # fmt: skip
    return put(folder, other, wants="refused")


def two_in_one(rng: random.Random, folder: Path) -> Case:
    """One file behind the other, or one with the end of the other."""
    one, other = seed(rng), printed(packed=rng.random() < 0.5)
    return put(folder, rng.choice((one + other, one[: len(one) // 2] + other[len(other) // 2 :])))


def demo_cut(rng: random.Random, folder: Path) -> Case:
    whole = demo_manual()
    return put(folder, cut(rng, whole.rstrip(), 1), wants="told", whole=beside(folder, whole))


def demo_bits(rng: random.Random, folder: Path) -> Case:
    return put(folder, flipped(rng, demo_manual(), 60))


KINDS = (
    Kind("pdf_cut_off", cut_off), Kind("pdf_cut_in_front", cut_in_front), Kind("pdf_bits", bits),
    Kind("pdf_bits_in_packed", bits_in_packed), Kind("pdf_pieces", pieces), Kind("pdf_offsets",
    offsets_wrong),
    Kind("pdf_start", start_wrong), Kind("pdf_trailer", trailer_wrong), Kind("pdf_junk_around", junk_around),
    Kind("pdf_no_pdf", no_pdf), Kind("pdf_two_in_one", two_in_one), Kind("pdf_demo_cut", demo_cut, True),
    Kind("pdf_demo_bits", demo_bits, True),
)  # fmt: skip
