"""Beside the large sentence of a report: open points of the plan, and the places that it names first."""

from lastbolt.app.report import ReportParts, report_page
from lastbolt.words.answer import Answer, PlaceState, Suspicion
from lastbolt.words.machine import MODEL_SCHEMA, Machine
from lastbolt.words.plan import PLAN_SCHEMA, Open, Plan

POINT = Open("reference", "2.2 says so.", "Look.")


def page_with(answer: Answer, *points: Open) -> tuple[str, list[str]]:
    plan = Plan(PLAN_SCHEMA, "goal", complete=not points, open=points)
    page = report_page(ReportParts(Machine(MODEL_SCHEMA, "m"), plan, answer))
    return page.why, [remark.words for remark in page.suspicions]


def answer(*suspicions: Suspicion, places: tuple[PlaceState, ...] = ()) -> Answer:
    return Answer(
        "lastbolt.answer/1", "j", "joint", "free", "Clear.", True, suspicions=suspicions, places=places
    )


def test_clear_to_part_says_beside_it_that_the_checklist_is_not_complete() -> None:
    assert page_with(answer(), POINT)[0].startswith("The checklist is not complete: 1 open point.")
    assert "checklist" not in page_with(answer())[0]


def test_places_that_the_headline_names_stand_first_among_suspicions() -> None:
    places = (
        PlaceState("p4", "4", "nothing", "empty", accounted=True),
        PlaceState("p16", "16", "not seen", "nobody", accounted=False),
        PlaceState("p17", "17", "not seen", "nobody", accounted=False),
    )
    told = [Suspicion(f"Place {p[1:]}", 1, "may hold", (p,)) for p in ("p4", "p17", "p16")]
    assert page_with(answer(*told, places=places))[1] == ["Place 16", "Place 17", "Place 4"]
