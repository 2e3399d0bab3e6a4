"""What the commands answer about the demo's bench, as JSON: asked as a person asks, read by the schemas."""

from __future__ import annotations

import contextlib
import io
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from key_matching import DEMO, PAGED, Page

from lastbolt.cli.main import main

GOAL = "remove gears and shafts"

Json = dict[str, Any]


def asked(*words: str | Path) -> Json:
    """What one command says with --json."""
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        status = main([*map(str, words), "--json"])
    assert status in (0, 1), said.getvalue()
    answer: Json = json.loads(said.getvalue())
    return answer


def papers(model: Path, job: str | Path) -> tuple[str | Path, ...]:
    """The files that each command of the bench is given."""
    found = job if isinstance(job, Path) else DEMO / f"{job}.json"
    return (
        "--model",
        model,
        "--engine",
        DEMO / "engine_3.json",
        "--walk",
        DEMO / "walk.json",
        "--job",
        found,
    )


def shown(citations: Iterable[Json]) -> set[Page]:
    """The PDF pages that citations of an answer name."""
    return {
        (PAGED[c["source"]], c["place"]["pdf_page"], c["place"].get("printed_page"))
        for c in citations
        if c["place"]["at"] == "pdf"
    }


def on(source: Json) -> Page:
    """The page that a source of the key stands on."""
    return source["document"], source["pdf_page"], source["printed_page"]
