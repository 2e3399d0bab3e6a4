"""The key to the measuring: what is beyond, what this tool cannot decide, which shims, each with its page."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from bench_asking import GOAL, Json, asked, on, papers, shown
from key_matching import DEMO, KEY

MEASURED = KEY["measured"]
SAYS = {
    "beyond": {"beyond"},
    "not decided": {"too close for this tool"},
    "within": {"within", "worn, within limit"},
}
LIMITS = pytest.mark.parametrize("limit", MEASURED["limits"], ids=lambda limit: limit["limit"])
FROM = pytest.mark.parametrize("source", ["typed", "events"])


def bench(kept_model: Path, job: str, *more: str | Path) -> Json:
    return asked(
        "measure", GOAL, "--model", kept_model, "--engine", DEMO / "engine_3.json",
        "--job", DEMO / f"{job}.json", "--tools", DEMO / "tools.csv", *more,
    )  # fmt: skip


@pytest.fixture(scope="module")
def said(kept_model: Path) -> dict[str, Json]:
    """The same day twice: typed at the bench, and as the job's events."""
    typed = bench(kept_model, "job_cleared", "--typed", DEMO / "readings.txt", "--today", "2026-09-23")
    return {"typed": typed, "events": bench(kept_model, "job_apart", "--today", "2026-09-23")}


def decided(answer: Json, limit: str) -> list[Json]:
    return [one for one in answer["decided"] if one.get("limit") == f"manual/limit/{limit}"]


@FROM
@LIMITS
def test_every_reading_is_decided_as_the_key_says(
    said: dict[str, Json], source: str, limit: dict[str, Any]
) -> None:
    found = decided(said[source], limit["limit"])
    assert found
    assert {one["says"] for one in found} <= SAYS[limit["says"]]
    worst = [one["value"] for one in found]
    assert min(abs(value - limit["read_mm"]) for value in worst) <= MEASURED["rounding_mm"]
    assert {one["tool"] for one in found} == {limit["tool"]}


@FROM
@LIMITS
def test_every_limit_stands_with_its_numbers_and_its_page(
    said: dict[str, Json], source: str, limit: dict[str, Any]
) -> None:
    for one in decided(said[source], limit["limit"]):
        assert [one["standard"]["low"], one["standard"]["high"]] == limit["standard_mm"]
        end = "high" if limit["sense"] == "at most" else "low"
        assert one["service"][end] == limit["limit_mm"]
        assert shown(one["citations"]) == {on(MEASURED["page"])}


@FROM
def test_no_more_is_beyond_and_no_more_is_undecided(said: dict[str, Json], source: str) -> None:
    keys = {f"manual/limit/{limit['limit']}": limit["says"] for limit in MEASURED["limits"]}
    assert sorted(keys.values()).count("beyond") == 2
    assert sorted(keys.values()).count("not decided") == 1
    for one in said[source]["decided"]:
        assert one["says"] in SAYS[keys[one["limit"]]]


@FROM
def test_every_reading_says_how_sure_it_is_and_who_read(said: dict[str, Json], source: str) -> None:
    for one in said[source]["decided"]:
        assert one["uncertainty"] > 0
        assert one["readers"]


def test_what_is_not_decided_names_no_part_to_order(kept_model: Path) -> None:
    order = asked("order", GOAL, *papers(kept_model, "job_apart"), "--prices", DEMO / "prices.csv")
    worn = {o["part_number"] for o in order["lines"] for r in o["reasons"] if r["because"] == "beyond limit"}
    assert worn == {o["part_number"] for o in KEY["order"]["lines"] if "beyond limit" in o["why"]}


@pytest.mark.parametrize("limit", MEASURED["again"]["limits"], ids=lambda limit: limit["limit"])
def test_measured_again_the_later_reading_counts(kept_model: Path, limit: dict[str, Any]) -> None:
    (one,) = decided(bench(kept_model, "job_finished", "--today", "2026-10-20"), limit["limit"])
    assert one["says"] in SAYS[limit["says"]]
    assert one["value"] == pytest.approx(limit["read_mm"], abs=MEASURED["rounding_mm"])
    assert one["tool"] == limit["tool"]


def test_at_the_end_nothing_is_beyond_or_undecided(kept_model: Path) -> None:
    finished = bench(kept_model, "job_finished", "--today", "2026-10-20", "--all")
    assert {one["says"] for one in finished["decided"]} <= SAYS["within"]


def test_shims_are_chosen_for_the_float_that_the_manual_asks_for(kept_model: Path) -> None:
    key = MEASURED["end_float"]
    answer = bench(
        kept_model, "job_apart", "--typed", DEMO / "float.txt", "--stock", DEMO / "shims.csv",
        "--today", "2026-10-06",
    )  # fmt: skip
    (free,) = (s for s in answer["sizes"] if s["what"] == "end float without shims")
    assert free["value"] == pytest.approx(key["without_shims_mm"], abs=0.005)
    (chosen,) = answer["shims"]
    first = chosen["choices"][0]
    assert {number for number in ("Q222-709", "Q222-710", "Q222-711") if number in first} == set(key["shims"])
    assert f"{key['remains_mm']:.2f}" in first
    for bound in key["target_mm"]:
        assert f"{bound:g}" in chosen["target"]


def test_tool_out_of_calibration_is_told(kept_model: Path, tmp_path: Path) -> None:
    lines = (DEMO / "readings.txt").read_text(encoding="utf-8").replace("dial gauge 1", "dial gauge 2")
    typed = tmp_path / "typed.txt"
    typed.write_text(lines, encoding="utf-8")
    answer = bench(kept_model, "job_cleared", "--typed", typed, "--today", "2026-09-23")
    (backlash,) = decided(answer, "backlash-pinion-to-gear")
    assert "2026-06-30" in str(backlash["told"]) + str(answer.get("problems"))
