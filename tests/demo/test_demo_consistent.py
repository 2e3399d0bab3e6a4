"""Nothing but the planted is wrong in the demo machine: checked on its own data, not on a reading."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path

import pytest

from demo.blocks import (
    Beside,
    Block,
    Chapter,
    Columns,
    Figure,
    Heading,
    Para,
    Setup,
    Step,
    Table,
    every_block,
)
from demo.machine.book import chapters
from demo.machine.parts import FIGURES

KEY = json.loads((Path(__file__).parents[2] / "demo" / "answer_key.json").read_text(encoding="utf-8"))
NUMBERS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
COUNTED = re.compile(
    r"\b(one|two|three|four|five|six) (?:screws?|bolts?|nuts?) (M\d+(?: x \d+)?)(?: \(\d+\))?"
)
LBFFT_PER_NM = 0.737562  # NIST SP 811 (2008), B.8: 1 lbf·ft = 1.355818 N·m

CHAPTERS: tuple[Chapter, ...] = chapters()
ROWS = {(figure.number, row.item): row for figure in FIGURES for row in figure.rows}


def words_of(block: Block) -> str:
    """All words of one block that may point, count or give a torque."""
    if isinstance(block, Setup):
        return " ".join(words for _, words in block.rows)
    if isinstance(block, Table):
        return " ".join(cell for row in block.rows for cell in row)
    return getattr(block, "words", "")


def sections() -> dict[str, list[Block]]:
    """Section number -> its blocks in reading order."""
    found: dict[str, list[Block]] = {}
    current = ""
    for chapter in CHAPTERS:
        for block in every_block(chapter.blocks):
            if isinstance(block, Columns | Beside):
                continue
            if isinstance(block, Heading):
                current = block.number
                found[current] = []
            else:
                found[current].append(block)
    return found


SECTIONS = sections()


def test_every_reference_but_the_planted_one_leads_somewhere() -> None:
    dangling = []
    for number, blocks in SECTIONS.items():
        for block in blocks:
            text = re.sub(r"\{page:([\d.]+)\}", r"(\1)", words_of(block))
            text = re.sub(
                r"\d[\d.]* (?:mm|N·m|lbf·ft|l\b|bar|kW|cm|V\b|diameters|: 1)|M\d+ x 1\.5|\b\d\.\d\d\d?\b",
                "",
                text,
            )
            if (
                isinstance(block, Table)
                and "ection" not in "".join(block.head)
                and "Remedy" not in block.head
            ):
                continue
            targets = re.findall(r"(?<![\d.–-])([1-9]\.\d{1,2})(?![\d.])", text)
            dangling += [(number, target) for target in targets if target not in SECTIONS]
    assert dangling == [("5.1", "5.7")]


def test_steps_named_in_references_exist() -> None:
    for blocks in SECTIONS.values():
        for block in blocks:
            for target, first, last in re.findall(r"(\d\.\d) steps (\d) to (\d)", words_of(block)):
                marks = [b.mark.strip("().") for b in SECTIONS[target] if isinstance(b, Step)]
                assert {first, last} <= set(marks), (target, first, last)


def test_counts_in_steps_agree_with_the_parts_list() -> None:
    printed = Counter(dict.fromkeys((), 0))
    allowed: dict[str, set[int]] = {}
    for row in ROWS.values():
        size = re.search(r"M\d+(?: x \d+)?(?![\d.])", row.description)
        if size and row.quantity.isdigit():
            allowed.setdefault(size.group(0), set()).add(int(row.quantity))
    for number, blocks in SECTIONS.items():
        for block in blocks:
            for count, size in COUNTED.findall(words_of(block)):
                printed[size] += 1
                assert NUMBERS[count] in allowed[size], (number, size, count)
    assert sum(printed.values()) > 25


def test_every_torque_but_the_planted_one_agrees_in_both_units() -> None:
    wrong = []
    pairs = []
    for number, blocks in SECTIONS.items():
        for block in blocks:
            for newton_metres, pound_feet in re.findall(r"([\d.]+) N·m \(([\d.]+) lbf·ft\)", words_of(block)):
                pairs.append((number, newton_metres, pound_feet))
            if isinstance(block, Table) and "N·m" in block.head and "lbf·ft" in block.head:
                at = block.head.index("N·m"), block.head.index("lbf·ft")
                pairs += [(row[0], row[at[0]], row[at[1]]) for row in block.rows]
    for name, newton_metres, pound_feet in pairs:
        decimals = len(pound_feet.partition(".")[2])
        if abs(float(newton_metres) * LBFFT_PER_NM - float(pound_feet)) > 0.51 * 10**-decimals:
            wrong.append((name, newton_metres, pound_feet))
    assert len(pairs) > 40
    assert wrong == [("Output shaft nut", "140", "133")]


def test_a_thread_has_one_torque_in_text_and_table() -> None:
    table = next(b for b in SECTIONS["8.1"] if isinstance(b, Table))
    by_size: dict[str, set[str]] = {}
    for _, thread, newton_metres, *_ in table.rows:
        by_size.setdefault(thread, set()).add(newton_metres)
    for number, blocks in SECTIONS.items():
        for block in blocks:
            for size, newton_metres in re.findall(
                r"screws? (M\d+ x \d+)[^.]*?to ([\d.]+) N·m", words_of(block)
            ):
                assert newton_metres in by_size[size], (number, size)


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.number)
def test_callouts_and_rows_of_the_parts_list_are_the_same(figure: object) -> None:
    from demo.drawings.scene import called_out

    rows = figure.rows  # type: ignore[attr-defined]
    drawing = called_out(figure.make, 1.0, tuple((row.item, row.spot) for row in rows))  # type: ignore[attr-defined]
    assert drawing.callouts == [row.item for row in rows]
    assert drawing.callouts == [str(n) for n in range(1, len(rows) + 1)]


def test_callouts_named_in_steps_stand_in_the_picture_beside_them() -> None:
    for chapter in CHAPTERS:
        for block in every_block(chapter.blocks):
            if not isinstance(block, Beside) or block.figure is None:
                continue
            legend = {mark for mark, _ in block.figure.legend}
            assert legend == set(block.figure.drawing.callouts)
            for inner in block.blocks:
                if isinstance(inner, Step | Para):
                    named = set(re.findall(r"\((\d{1,2})\)", inner.words))
                    assert named <= legend, (block.figure.number, inner.words)


def test_limits_lie_outside_the_standard_range() -> None:
    rows = [
        row for number in ("5.5", "8.3") for b in SECTIONS[number] if isinstance(b, Table) for row in b.rows
    ]
    assert len(rows) == 14
    for name, standard, limit in rows:
        low, high = (float(n) for n in re.findall(r"[\d.]+", standard))
        worn = float(re.findall(r"[\d.]+", limit)[0])
        assert worn < low or worn > high, name


def test_what_comes_off_goes_back_on_but_for_the_planted_duct() -> None:
    gone = re.compile(
        r"\b(?:[Rr]emov|[Tt]ake|[Tt]aken|[Ll]ift|[Dd]raw|[Pp]ull|[Dd]rive|[Uu]nscrew|[Dd]isconnect)"
    )
    back = re.compile(
        r"\b(?:[Ff]it|[Pp]ut|[Pp]ush|Screw|[Ss]et|[Ii]nstall|[Mm]ount|[Cc]onnect|[Ss]wing|[Ll]ay|[Tt]ighten)"
    )
    parts = (
        "flywheel guard", "fan shroud", "cooling-air duct", "duct (1)", "heat shield", "rain cap", "silencer",
        "coupling guard", "coupling element", "coupling half", "pinion", "bracket", "priming pump", "lever",
        "split pin", "hose", "filter element", "delivery union", "output shaft", "circlip", "key",
        "inspection cover", "screws M6 x 12", "screws M6 x 10", "bolts M12 x 55", "nuts M8",
    )  # fmt: skip
    reverse = {
        n for n, blocks in SECTIONS.items() if any("reverse of removal" in words_of(b) for b in blocks)
    }
    off, on = set(), set()
    for number, blocks in SECTIONS.items():
        for block in blocks:
            if not isinstance(block, Step | Para):
                continue
            for part in parts:
                if part in block.words:
                    off |= {part} if isinstance(block, Step) and gone.search(block.words) else set()
                    on |= {part} if back.search(block.words) and "Follow-on" not in block.words else set()
                    on |= {part} if number in reverse else set()
    assert {part for part in off if part not in on} == {"duct (1)", "screws M6 x 12"}


def test_pictures_are_numbered_by_chapter_in_order() -> None:
    for chapter in CHAPTERS:
        numbers = [b.number for b in every_block(chapter.blocks) if isinstance(b, Figure)]
        assert numbers == [f"{chapter.number}-{i}" for i in range(1, len(numbers) + 1)]


def test_required_conditions_have_no_cycle_and_reach_what_the_key_says() -> None:
    needs: dict[str, set[str]] = {}
    for number, blocks in SECTIONS.items():
        needs[number] = set()
        for block in blocks:
            if isinstance(block, Setup):
                for label, words in block.rows:
                    if label in ("Equipment condition", "Variant H"):
                        needs[number] |= set(re.findall(r"\b(\d\.\d+)(?=[);, ]|\})", words))
    reached: set[str] = set()
    waiting = [KEY["closure"]["goal"]]
    while waiting:
        number = waiting.pop()
        if number not in reached:
            reached.add(number)
            waiting.extend(needs[number])
    assert reached == set(KEY["closure"]["procedures"])
    for before, after in KEY["closure"]["must_come_before"]:
        assert before in needs[after], (before, after)
