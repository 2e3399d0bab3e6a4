"""The bench's PDF corpus: pages of running text, two columns, ruled and plain tables, and drawings.

`python -m bench.pdf_corpus OUT.pdf [PAGES]` writes it. Invented words; one seed, one corpus.
Mix per ten pages: four of one-column steps, two of two columns, two of tables (one ruled), two of drawings.
"""

import random
import sys
from pathlib import Path

import typst

SEED = 11
_WORDS = """
cover housing flange shaft gear bracket gasket bearing plug lever spring washer seal pipe sleeve collar
remove loosen lift turn clean inspect mark support drain fit tighten align hold push
the the the and with from both upper lower left right front rear slowly evenly until it is free of load
while holding at its outer edge without touching sealing face then put aside in order on a clean bench
"""
_NOUNS, _VERBS, *_MORE = (line.split() for line in _WORDS.strip().splitlines())
_REST = [word for line in _MORE for word in line]
_HEAD = """
#set page(width: 210mm, height: 297mm, margin: (x: 18mm, y: 20mm), numbering: "1",
  header: [Bench corpus #h(1fr) chapter])
#set text(size: 9pt)
#set par(justify: true)
"""


def corpus_source(pages: int, seed: int = SEED) -> str:
    """The corpus as typst markup."""
    rng = random.Random(seed)
    makers = (_steps, _steps, _columns, _ruled, _drawing, _steps, _columns, _plain, _drawing, _steps)
    return _HEAD + "\n#pagebreak()\n".join(makers[n % 10](rng, n + 1) for n in range(pages))


def write_corpus(path: Path, pages: int, seed: int = SEED) -> None:
    """Write the corpus as a PDF file."""
    source = path.with_suffix(".typ")
    source.write_text(corpus_source(pages, seed), encoding="utf-8")
    typst.compile(str(source), output=str(path))
    source.unlink()


def _sentence(rng: random.Random) -> str:
    words = [rng.choice(_VERBS).capitalize(), "the", rng.choice(_NOUNS)]
    words += [rng.choice(_REST if rng.random() < 0.7 else _NOUNS) for _ in range(rng.randint(6, 16))]
    if rng.random() < 0.25:
        words.append(f"(see {rng.randint(1, 9)}.{rng.randint(1, 9)})")
    if rng.random() < 0.2:
        words.append(f"with {rng.randint(2, 8)} screws M{rng.choice((5, 6, 8))}x{rng.randint(3, 18) * 5}")
    return " ".join(words) + "."


def _title(rng: random.Random, number: int) -> str:
    return f"= {number // 10 + 1}.{number % 10 + 1} #text[{rng.choice(_NOUNS).capitalize()} {number}]\n"


def _steps(rng: random.Random, number: int) -> str:
    items = "\n".join(f"+ {_sentence(rng)} {_sentence(rng)}" for _ in range(19))
    return f"{_title(rng, number)}\n{items}\n"


def _columns(rng: random.Random, number: int) -> str:
    body = "\n\n".join(_sentence(rng) + " " + _sentence(rng) for _ in range(24))
    return f"{_title(rng, number)}\n#columns(2)[{body}]\n"


def _table(rng: random.Random, stroke: str) -> str:
    cells = "[*Item*], [*Part no.*], [*Description*], [*Qty*], [*Remarks*],"
    for item in range(1, 41):
        name = f"{rng.choice(_NOUNS)} M{rng.choice((6, 8))} x {rng.randint(2, 18) * 5}"
        part = f"{rng.randint(100, 999)}-{rng.randint(1000, 9999)}"
        remark = " ".join(rng.choice(_REST) for _ in range(rng.randint(0, 4)))
        cells += f"[{item}], [{part}], [{name}], [{rng.randint(1, 12)}], [{remark}],\n"
    return f"#table(columns: (auto, auto, 1fr, auto, 1fr), stroke: {stroke}, inset: 3.5pt,\n{cells})\n"


def _ruled(rng: random.Random, number: int) -> str:
    return _title(rng, number) + _table(rng, "0.5pt")


def _plain(rng: random.Random, number: int) -> str:
    return _title(rng, number) + _table(rng, "none")


def _drawing(rng: random.Random, number: int) -> str:
    parts = []
    for _ in range(90):
        x, y = rng.uniform(2, 150), rng.uniform(2, 90)
        kind = rng.randrange(3)
        if kind == 0:
            parts.append(f"#place(dx: {x:.1f}mm, dy: {y:.1f}mm, circle(radius: {rng.uniform(1, 8):.1f}mm))")
        elif kind == 1:
            parts.append(
                f"#place(dx: {x:.1f}mm, dy: {y:.1f}mm, line(end: ({rng.uniform(-20, 20):.1f}mm, 9mm)))"
            )
        else:
            parts.append(
                f"#place(dx: {x:.1f}mm, dy: {y:.1f}mm, curve(curve.move((0mm, 0mm)), "
                f"curve.cubic((4mm, 8mm), (9mm, -4mm), (14mm, 3mm))))"
            )
    for callout in range(1, 19):
        x, y = rng.uniform(0, 165), rng.uniform(0, 95)
        parts.append(f"#place(dx: {x:.1f}mm, dy: {y:.1f}mm)[{callout}]")
    steps = "\n".join(f"+ {_sentence(rng)} {_sentence(rng)}" for _ in range(9))
    box = f"#box(width: 174mm, height: 105mm)[{''.join(parts)}]"
    return (
        f"{_title(rng, number)}\n{box}\n\n*Figure {number}.* {rng.choice(_NOUNS).capitalize()}\n\n{steps}\n"
    )


if __name__ == "__main__":
    write_corpus(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 300)
