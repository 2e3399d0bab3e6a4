"""Manuals in Markdown, HTML and plain text: the same facts as of a printed one, each with its line."""

from pathlib import Path

import pytest

from lastbolt.cli.read import read_files
from lastbolt.reading.text_html import read_html
from lastbolt.reading.text_markdown import read_markdown
from lastbolt.reading.text_pages import parts_of
from lastbolt.words.citation import TextPlace
from lastbolt.words.machine import Machine, Step

MARKDOWN = """---
title: Winch
---
# Winch W-20 service manual

## Contents

- [1 Drum](#1-drum)
- [2 Data](#2-data)

## 1 Drum

### 1.1 Removing the drum

> [!WARNING]
> The rope is under load. Lower the load first.

1. Remove the guard (see [1.2](#12-removing-the-guard)).
2. Remove the four screws M8 x 30 of the drum cover.
   Keep the washers.
   - Note the colour of the shims.
3. Do as told [here](#brake), then lift the drum off.
4. Tighten the cover screws to **25 N·m** (18 lbf·ft).
5. Go [there](#nowhere), or look at [the drive](drive.md#chain).

### 1.2 Removing the guard

1. Undo the 2 screws M6 x 16.

### 1.3 Checking the brake {#brake}

1. Check the play of the lever: max. 0.3 mm.

## 2 Data

### 2.1 Tightening torques

| Fastener | Thread | Torque |
|---|---|---|
| Drum cover screws | M8 | 25 N·m |
| Gearbox screws | M8 | 24 N·m |

### 2.2 Parts list

| Item | Part no. | Description | Qty |
|---|---|---|---|
| 1 | W-101 | Drum | 1 |
| 2 | W-102 | Screw M8 x 30 | 4 |
"""
HTML = """<!DOCTYPE html><html><head><title>W</title><script>"Remove the 9 screws M9 x 90."</script></head>
<body><nav><a href="#s1">Drum</a></nav>
<h1>Winch W-20 service manual</h1>
<h2 id="s1">1 Drum</h2>
<h3 id="off">1.1 Removing the drum</h3>
<div class="warning"><p>The rope is under load. Lower the load first.</p></div>
<ol><li>Remove the guard (see <a href="#guard">1.2</a>).</li>
<li><p>Remove the four screws M8&nbsp;x&nbsp;30 of the drum cover.</p><p>Keep the washers.</p>
<ul><li>Note the colour of the shims.</ul></li>
<li>Do as told <a href="#brake">here</a>, then lift the drum off.</li>
<li>Tighten the cover screws to <b>25 N·m</b> (18 lbf·ft).</li>
<li>Go <a href="#nowhere">there</a>, or look at <a href="drive.html#chain">the drive</a>.</li></ol>
<p hidden>Remove the 7 screws M7 x 70.</p><p style="display: none">Remove the 6 nuts M5.</p>
<h3 id="guard">1.2 Removing the guard</h3>
<ol><li>Undo the 2 screws M6 x 16.</ol>
<h3><a name="brake"></a>1.3 Checking the brake</h3>
<ol><li>Check the play of the lever: max. 0.3 mm.</ol>
<h2>2 Data</h2>
<h3>2.1 Tightening torques</h3>
<table><tr><th>Fastener<th>Thread<th>Torque
<tr><td>Drum cover screws<td>M8<td>25 N·m
<tr><td>Gearbox screws<td>M8<td>24 N·m</table>
<h3>2.2 Parts list</h3>
<table><thead><tr><th>Item</th><th>Part no.</th><th>Description</th><th>Qty</th></tr></thead>
<tr><td>1</td><td>W-101</td><td>Drum</td><td>1</td></tr>
<tr><td>2</td><td>W-102</td><td>Screw M8 x 30</td><td>4</td></tr></table>
</body></html>
"""
PLAIN = """WINCH W-20 SERVICE MANUAL
=========================

1 DRUM
------

1.1 Removing the drum

WARNING: The rope is under load. Lower the load first.

  1. Remove the guard (see 1.2).
  2. Remove the four screws M8 x 30 of the drum cover.
     Keep the washers.
  3. Lift the drum off.
  4. Tighten the cover screws to 25 N·m (18 lbf·ft).

1.2 Removing the guard

  1. Undo the 2 screws M6 x 16.

2 DATA
------

2.2 Parts list

Item   Part no.   Description      Qty
1      W-101      Drum             1
2      W-102      Screw M8 x 30    4
"""


def read(tmp_path: Path, sort: str, text: str) -> Machine:
    (tmp_path / f"winch.{sort}").write_text(text, encoding="utf-8")
    return read_files([tmp_path / f"winch.{sort}"]).machine


def steps_of(machine: Machine, number: str) -> tuple[Step, ...]:
    return next(procedure for procedure in machine.procedures if procedure.number == number).steps


def line_of(fact: object) -> int:
    place = fact.citations[0].place  # type: ignore[attr-defined]
    assert isinstance(place, TextPlace)
    return place.line


@pytest.mark.parametrize(("sort", "text"), [("md", MARKDOWN), ("html", HTML), ("txt", PLAIN)])
def test_the_facts_of_a_manual_with_their_lines(sort: str, text: str, tmp_path: Path) -> None:
    machine = read(tmp_path, sort, text)
    assert {"1.1", "1.2"} <= {section.number for section in machine.sections}
    procedure = next(p for p in machine.procedures if p.number == "1.1")
    assert [caution.words for caution in procedure.cautions] == [
        "The rope is under load. Lower the load first."
    ]
    numbered = [step for step in procedure.steps if "." not in step.mark]
    assert [step.words for step in numbered[:2]] == [
        "Remove the guard (see 1.2).",
        "Remove the four screws M8 x 30 of the drum cover. Keep the washers.",
    ]
    assert [r.to for r in numbered[0].references] == [("winch/procedure/1.2",)]
    screws = next(mention for mention in numbered[1].mentions if mention.kind)
    assert (screws.quantity.low, screws.kind.thread, screws.kind.length_mm) == (4, "M8", 30)  # type: ignore[union-attr]
    torques = [value.torque_Nm for step in numbered for value in step.torques]
    assert torques == [(25, 25)]
    assert [(row.item, row.part_number, row.quantity.low) for row in machine.rows] == [
        ("1", "W-101", 1), ("2", "W-102", 4),
    ]  # fmt: skip
    for fact, words in (
        (numbered[0], "Remove the guard"),
        (numbered[1], "Remove the four"),
        (machine.rows[1], "W-102"),
    ):
        assert line_of(fact) == text[: text.index(words)].count("\n") + 1
    assert [page.state for page in machine.pages if page.state == "unexplained"] == []


@pytest.mark.parametrize(("sort", "text"), [("md", MARKDOWN), ("html", HTML)])
def test_links_lead_to_their_places(sort: str, text: str, tmp_path: Path) -> None:
    machine = read(tmp_path, sort, text)
    led = {r.words: (r.status, r.to) for step in steps_of(machine, "1.1") for r in step.references}
    assert led["here"] == ("resolved", ("winch/procedure/1.3",))
    assert led["there"] == ("dangling", ())
    assert led["the drive"] == ("other book", ())
    lost = [problem for problem in machine.problems if problem.code == "LB-R01"]
    assert ["#nowhere" in problem.what for problem in lost] == [True]
    assert [row.what for row in machine.torques] == ["Drum cover screws", "Gearbox screws"]
    said = " ".join(step.words for p in machine.procedures for step in p.steps)
    assert "M9" not in said
    assert "M7" not in said
    assert "M5" not in said


def test_links_between_texts_read_together(tmp_path: Path) -> None:
    (tmp_path / "winch.md").write_text(MARKDOWN, encoding="utf-8")
    (tmp_path / "drive.md").write_text(
        "# 5 Drive\n\n## 5.1 Chain\n\n1. Take off the chain.\n", encoding="utf-8"
    )
    machine = read_files([tmp_path / "winch.md", tmp_path / "drive.md"]).machine
    led = {r.words: (r.status, r.to) for step in steps_of(machine, "1.1") for r in step.references}
    assert [to for words, to in led.items() if "the drive" in words] == [
        ("resolved", ("drive/procedure/5.1",))
    ]


def test_a_text_file_may_be_a_parts_list(tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("Item;Name;Qty\n1;Drum;1\n2;Screw M8 x 30;4\n", encoding="utf-8")
    machine = read_files([tmp_path / "list.txt"]).machine
    assert [(row.name, row.quantity.low) for row in machine.rows] == [("Drum", 1), ("Screw M8 x 30", 4)]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Use 3 * 4 screws of part_no_7.", "Use 3 * 4 screws of part_no_7."),
        ("**4** screws, *not* `M6`", "4 screws, not M6"),
        ("(**4**) screws &amp; nuts \\*", "(4) screws & nuts *"),
        ("see ![a bolt](b.png) [the cover][c]\n\n[c]: #cover", "see the cover"),
        ("one<br>two <!-- three --> four", "one two four"),
    ],
)
def test_inline_markdown(text: str, said: str) -> None:
    assert " ".join(read_markdown(text).blocks[0].text.split()) == said


def test_a_table_over_several_columns_and_a_table_in_a_cell() -> None:
    (table,) = read_html(
        "<table><tr><td colspan=2>a<td>b<tr><td>c<td><table><tr><td>d</table><td>e</table>"
    ).blocks
    assert [["".join(run.text for run in cell) for cell in row] for row in table.rows] == [
        ["a", "", "b"], ["c", "d", "e"],
    ]  # fmt: skip


def test_a_long_chapter_goes_on_on_a_further_page() -> None:
    text = "# One\n\n" + "\n\n".join(f"Sentence number {n}." for n in range(500))
    parts = parts_of(read_markdown(text))
    assert len(parts) == 3
    assert {part.title for part in parts} == {"One"}
    assert all(0 <= word.top < word.bottom <= 1 for part in parts for word in part.page.words)


BY_LINK = """# Pump

## 1 Cover

Equipment condition: drive belt off ([Belt](#belt)); tank empty (para 9-9).

1. Remove the six screws (see [this](#belt), and 9-8).
   CAUTION: Do not lever on the edge.
2. Fit the cover.

   > **Note** Do not overtighten.

3. Look at it.

## 2 Belt

1. Take the belt off.
"""


def test_a_link_settles_its_own_words_and_no_others(tmp_path: Path) -> None:
    machine = read(tmp_path, "md", BY_LINK)
    cover = next(p for p in machine.procedures if p.title == "Cover")
    before = {one.words.partition(" (")[0]: (one.status, one.to) for one in cover.before}
    assert before["drive belt off"] == ("resolved", ("winch/procedure/2",))
    assert before["tank empty"][0] == "dangling"
    lost = " ".join(problem.what for problem in machine.problems if problem.code in ("LB-R01", "LB-R06"))
    assert "9-9" in lost
    assert "9-8" in lost


def test_a_warning_on_its_own_line_and_a_quotation_stay_with_their_entry(tmp_path: Path) -> None:
    steps = next(p for p in read(tmp_path, "md", BY_LINK).procedures if p.title == "Cover").steps
    assert [[caution.words for caution in step.cautions] for step in steps] == [
        ["Do not lever on the edge."], ["Do not overtighten."], [],
    ]  # fmt: skip
