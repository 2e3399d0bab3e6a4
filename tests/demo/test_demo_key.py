"""The answer keys against the made documents: every source stands on the page that the key names."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from pathlib import Path

import pypdfium2
import pytest

DEMO = Path(__file__).parents[2] / "demo"
KEY = json.loads((DEMO / "answer_key.json").read_text(encoding="utf-8"))
SMALL = json.loads((DEMO / "small" / "answer_key.json").read_text(encoding="utf-8"))
MATTERS = [*KEY["allegations"], *KEY["matters"]]


def page_text(path: Path, pdf_page: int) -> str:
    """The words of one page, single-spaced."""
    return " ".join(pypdfium2.PdfDocument(path)[pdf_page - 1].get_textpage().get_text_range().split())


def sources() -> Iterator[tuple[str, dict[str, object]]]:
    for matter in MATTERS:
        for source in matter["sources"]:
            yield matter["id"], source


def cited(part: object) -> Iterator[dict[str, object]]:
    """Every source cited anywhere in a part of the key."""
    if isinstance(part, dict):
        if "pdf_page" in part:
            yield part
        for inside in part.values():
            yield from cited(inside)
    elif isinstance(part, list):
        for inside in part:
            yield from cited(inside)


CITED = [(name, source) for name in ("measured", "order", "way_back") for source in cited(KEY[name])]


@pytest.mark.parametrize(
    ("matter", "source"), [s for s in sources() if str(s[1]["document"]).endswith(".pdf")] + CITED
)
def test_words_stand_on_their_page(made: Path, matter: str, source: dict[str, object]) -> None:
    text = page_text(made / str(source["document"]), int(str(source["pdf_page"])))
    assert text.split()[-1] == source["printed_page"], matter
    for row in source.get("rows", [source]):  # type: ignore[attr-defined]
        assert row.get("words", row.get("row", "")) in text, matter
    if "section" in source:
        assert f"{source['section']} " in text
    if "figure" in source:
        assert f"Fig. {source['figure']} " in text


def test_rows_of_the_table_file(made: Path) -> None:
    with (made / "parts_list.csv").open(encoding="utf-8", newline="") as file:
        rows = {(row["figure"], row["item"]): row for row in csv.DictReader(file)}
    for _, source in sources():
        if "figure" not in source:
            continue
        for entry in source.get("rows", [source]):  # type: ignore[attr-defined]
            row = rows[str(source["figure"]), str(entry["item"])]
            assert entry.get("words", row["description"]) in (row["description"], row["remarks"])
            assert row["qty"] == str(entry.get("quantity", row["qty"]))


def test_every_allegation_is_of_a_listed_kind() -> None:
    assert {a["kind"] for a in KEY["allegations"]} <= set(KEY["kinds_of_allegation"]["kinds"])


def test_units_row_is_printed_as_the_key_says(made: Path) -> None:
    assert "Output shaft nut M24 x 1.5 LH 140 133 left-hand" in page_text(made / "manual.pdf", 23)


def test_truth_agrees_with_the_castings() -> None:
    from demo.machine.joint import PLACES

    places = KEY["truth_before_pressing"]["places"]
    assert set(places) == {f"p{place.position}" for place in PLACES} | {"p18"}
    still_in = {entry["place"]: entry["screw"] for entry in KEY["truth_before_pressing"]["still_in"]}
    sizes = {f"p{place.position}": place.size for place in PLACES}
    assert still_in == {place: sizes[place] for place, state in places.items() if state.startswith("in")}
    out = [sizes[place] for place, state in places.items() if state.startswith("out")]
    tray = KEY["truth_before_pressing"]["tray"]
    assert len(out) == sum(tray.values())
    assert out.count("M8 x 45") == tray["M8 x 45"] + tray["M8 x 50"]


@pytest.mark.parametrize(
    ("job", "truth"), [("job", "truth_before_pressing"), ("job_cleared", "truth_cleared")]
)
def test_truth_is_a_consequence_of_the_scene(job: str, truth: str) -> None:
    events = json.loads((DEMO / f"{job}.json").read_text(encoding="utf-8"))["events"]
    taken = {place for event in events if event["event"] == "took out" for place in event["places"]}
    missing = {
        fact["place"]
        for fact in json.loads((DEMO / "engine_3.json").read_text(encoding="utf-8"))["as_found"]
        if fact["what"] == "missing"
    }
    walk = json.loads((DEMO / "walk.json").read_text(encoding="utf-8"))
    everywhere = {place["id"] for place in walk["places"]} - {"p18"}
    assert everywhere - taken - missing == {entry["place"] for entry in KEY[truth]["still_in"]}
    settled = {event["holder"] for event in events if event["event"] == "holder settled"}
    open_holders = {holder["id"] for holder in walk["holders"]} - settled
    assert open_holders == set(KEY[truth]["holders_not_settled"])
    last: dict[str, int] = {}
    for event in events:
        if event["event"] == "counted":
            last[f"M8 x {event['kind']['length_mm']:g}"] = event["pieces"]
    assert last == KEY[truth]["tray"]


def test_small_key_pages(small: Path) -> None:
    for section in (SMALL["goal"], *SMALL["required"]):
        text = page_text(small / "manual.pdf", section["pdf_page"])
        assert f"{section['section']} {section['title']}" in text
        assert text.split()[-1] == section["printed_page"]
