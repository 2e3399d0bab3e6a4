"""Damaged tables of text: CSV and its kin (RFC 4180), in encodings, lengths and widths that nobody
expects."""

import random
from pathlib import Path

from failure.damaged.cases import Case, Kind, cut, flipped, mangled, reading

HEAD = ("figure", "item", "part_number", "description", "qty", "remarks")
ROWS = (
    ("1", "1", "W-110", "Guard, chain", "1", ""),
    ("1", "2", "W-111", "Screw, hex, M6 x 16", "2", ""),
    ("1", "3", "W-113", "Washer, 6", "3", ""),
    ("2", "1", "W-201", "Housing of the gearbox", "1", ""),
    ("2", "2", "W-204", "Screw, hex, M6 x 25", "5", "Größe prüfen"),
    ("2", "3", "W-205", "Plug M14 x 1.5", "1", "80 °C"),
)
NAME = "list.csv"


def table(separator: str = ",", rows: tuple[tuple[str, ...], ...] = ROWS) -> str:
    """The parts list as text."""
    return "".join(
        separator.join(f'"{cell}"' if separator in cell else cell for cell in row) + "\n"
        for row in (HEAD, *rows)
    )


def put(folder: Path, content: bytes, name: str = NAME, **wants: str) -> Case:
    """The case of the damaged list."""
    (folder / name).write_bytes(content)
    return reading(name, **wants)  # type: ignore[arg-type]


def seed(rng: random.Random) -> bytes:
    """The whole list with a common separator and encoding."""
    encoding = rng.choice(("utf-8", "utf-8-sig", "cp1252", "utf-16", "utf-16-le", "utf-16-be"))
    return table(rng.choice(",;\t|")).encode(encoding)


def cut_off(rng: random.Random, folder: Path) -> Case:
    return put(folder, cut(rng, seed(rng)), rng.choice((NAME, "list.tsv", "list.txt")))


def bits(rng: random.Random, folder: Path) -> Case:
    return put(folder, flipped(rng, seed(rng)))


def pieces(rng: random.Random, folder: Path) -> Case:
    return put(folder, mangled(rng, seed(rng)))


def encodings(rng: random.Random, folder: Path) -> Case:
    """Encodings that are rare, marked wrongly, or mixed within a file."""
    text = table(rng.choice(",;"))
    chosen = rng.randrange(4)
    if chosen == 0:
        content = text.encode(
            rng.choice(("utf-32", "utf-32-le", "utf-7", "cp500", "shift-jis", "koi8-r")), "replace"
        )
    elif chosen == 1:
        mark = rng.choice((b"\xff\xfe", b"\xfe\xff", b"\xef\xbb\xbf", b"\xff\xfe\0\0"))
        content = mark + text.encode(rng.choice(("utf-8", "cp1252", "utf-16-le", "utf-16-be")))
    elif chosen == 2:
        content = b"".join(
            line.encode(rng.choice(("utf-8", "cp1252", "utf-16-le")))
            for line in text.splitlines(keepends=True)
        )
    else:
        content = text.encode("utf-16-le")[1:] + b"\0" * rng.randrange(3)
    return put(folder, content)


def zeros(rng: random.Random, folder: Path) -> Case:
    """NUL bytes strewn in, or a tail of them as after a power cut."""
    raw = bytearray(table().encode())
    if rng.random() < 0.5:
        for _ in range(rng.randint(1, 40)):
            raw.insert(rng.randrange(len(raw)), 0)
    else:
        start = rng.randrange(len(raw))
        raw[start:] = bytes(len(raw) - start + rng.choice((0, 4096)))
    return put(folder, bytes(raw), wants="told")


def long_line(rng: random.Random, folder: Path) -> Case:
    """One line, or one cell, of up to 100 MB."""
    size = rng.choice((100, 60, 20, 5)) * 10**6
    one = rng.choice((b"x", b"a,", b"screw ", b'"', b"\t"))
    before = rng.choice((b"", table().encode()))
    content = before + one * (size // len(one))
    return put(folder, content, wants="refused" if size == 100 * 10**6 else "")


def many_columns(rng: random.Random, folder: Path) -> Case:
    """100,000 columns, in the headings or in one line."""
    wide = ",".join(f"c{n}" for n in range(100_000))
    content = rng.choice(
        (wide + "\n" + wide + "\n", table() + wide + "\n", "," * 100_000 + "\n" + table(), wide)
    )
    return put(folder, content.encode(), wants="told")


def many_rows(rng: random.Random, folder: Path) -> Case:
    """Rows by the ten thousand: all alike, or each another."""
    alike = rng.random() < 0.5
    count = rng.choice((500, 2000, 5000) if alike else (2000, 10_000, 30_000))
    rows = tuple(
        ("1", str(1 if alike else n), f"W-{n % 900}", "Screw, hex, M6 x 16", "2", "") for n in range(count)
    )
    return put(folder, table(rows=rows).encode())


def quotes(rng: random.Random, folder: Path) -> Case:
    """Quotation marks that are opened anywhere and not closed."""
    text = table(rng.choice(",;"))
    for _ in range(rng.randint(1, 4)):
        place = rng.randrange(len(text))
        text = text[:place] + rng.choice(('"', '""', '"\n', "'", '\\"')) + text[place:]
    return put(folder, text.encode())


HOSTILE = (
    "=cmd|'/c calc'!A1", "=1+1", "\x1b[2J\x1b[31mred", "\u202egnp.exe", "a\u200bb", "-5", "1e309", "NaN",
    "9" * 400,
    "½", "²", "٣", "1,000,000", "0x10", "∞", "--", "<script>alert(1)</script>", "../../etc/passwd",
    "{{7*7}}", "%s%n",
    "M99999999 x 99999999", "M8 x " + "9" * 200, "x" * 40_000, "\ufeff", "🔩" * 50, "M8x" * 3000, "1-" * 2000,
    " " * 9000,
)  # fmt: skip


def hostile_cells(rng: random.Random, folder: Path) -> Case:
    """Cells that a terminal, a spreadsheet or a rule could stumble over."""
    rows = [list(row) for row in ROWS]
    for _ in range(rng.randint(1, 8)):
        rng.choice(rows)[rng.randrange(len(HEAD))] = rng.choice(HOSTILE)
    head = tuple(rng.choice(HOSTILE) if rng.random() < 0.05 else cell for cell in HEAD)
    lines = ["\t".join(row) for row in (head, *rows)]
    return put(folder, ("\n".join(lines) + "\n").encode("utf-8", "surrogatepass"), "list.tsv")


def no_table(rng: random.Random, folder: Path) -> Case:
    """Nothing, or something that is no table at all."""
    content = rng.choice((
        b"", b"\xef\xbb\xbf", b"\n" * 5000, b",,,,\n" * 50, b"\xff\xfe", b"alone\n" * 20, rng.randbytes(3000),
        b"%PDF-1.7\n" + rng.randbytes(500), b"PK\x03\x04" + rng.randbytes(500), b"\0" * 9000, b"\x1a",
    ))  # fmt: skip
    return put(folder, content, rng.choice((NAME, "list.tsv")), wants="refused")


def ends_of_lines(rng: random.Random, folder: Path) -> Case:
    """Lines that end in every way there is, mixed."""
    ends = ("\n", "\r", "\r\n", "\n\r", "\x0b", "\x0c", "\u2028", "\x85", "\r\r\n")
    text = "".join(line + rng.choice(ends) for line in table(rng.choice(",;\t")).splitlines())
    return put(folder, text.encode())


KINDS = (
    Kind("csv_cut_off", cut_off), Kind("csv_bits", bits), Kind("csv_pieces", pieces),
    Kind("csv_encodings", encodings), Kind("csv_zeros", zeros), Kind("csv_long_line", long_line, True),
    Kind("csv_many_columns", many_columns, True), Kind("csv_many_rows", many_rows, True),
    Kind("csv_quotes", quotes), Kind("csv_hostile_cells", hostile_cells), Kind("csv_no_table", no_table),
    Kind("csv_ends_of_lines", ends_of_lines),
)  # fmt: skip
