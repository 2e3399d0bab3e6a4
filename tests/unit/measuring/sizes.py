"""A small table of limits, tools and readings for the tests of measuring. All of it is made up."""

from lastbolt.measuring.sheet import Wanted, sheet_of
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.job import JOB_SCHEMA, Event, Job, Measured
from lastbolt.words.measured import Limit, LimitSense, Reading, Span
from lastbolt.words.readings import ShopTool, Size

MICROMETER = ShopTool("micrometer 2", "outside micrometer", "mm", 25, 50, 0.001, 0.004, "2027-03-31")
BORE_GAUGE = ShopTool("bore gauge 1", "bore gauge", "mm", 50, 100, 0.001, 0.005, "2027-03-31")
DIAL = ShopTool("dial gauge 1", "dial gauge", "mm", 0, 10, 0.01, 0.01, "2026-06-30")
CALIPER = ShopTool("caliper", "vernier caliper", "mm", 0, 150, 0.05, 0.06, "2027-03-31")
INCH = ShopTool("inch micrometer", "outside micrometer", "in", 1, 2, 0.0001, 0.0002, "2027-03-31")
TOOLS = (MICROMETER, BORE_GAUGE, DIAL, CALIPER, INCH)


def limit(
    what: str, low: float | None, high: float | None, end: float | None, sense: LimitSense = "at most",
    unit: str = "mm",
) -> Limit:  # fmt: skip
    """A line of a table of limits: the standard range, and its limit on one side."""
    service = None
    if end is not None:
        service = Span(None if sense == "at most" else end, None if sense == "at least" else end, unit)
    standard = Span(low, high, unit) if low is not None or high is not None else None
    key = "-".join(what.lower().replace(",", "").split())
    return Limit(f"book/limit/{key}", what, standard=standard, limit=service, sense=sense if end else "",
                 citations=(Citation("book", PdfPlace(41, "7-3"), what),))  # fmt: skip


FLOAT = limit("End float, layshaft", 0.10, 0.20, 0.35)
SEAT = limit("Layshaft, seat of front bearing, diameter", 30.002, 30.011, 29.990, "at least")
BORE = limit("Bore of the front bearing in the case", 71.988, 72.000, 72.020)
RUNOUT = limit("Run-out of the layshaft", 0.0, 0.02, 0.05)
PLATE = limit("Friction plate, thickness", 3.1, 3.3, 2.8, "at least")
CLASH = limit("Selector fork, thickness", 5.80, 6.00, 5.90, "at least")
TABLE = (FLOAT, SEAT, BORE, RUNOUT, PLATE, CLASH)


def sheet(*limits: Limit) -> tuple[Size, ...]:
    """The sheet of these limits, or of all."""
    return sheet_of(Wanted(one) for one in limits or TABLE)


def job(*events: Event) -> Job:
    """A job with these events."""
    return Job(JOB_SCHEMA, "j", "4.1", events=events)


def read(
    number: int, what: str, *values: float, tool: ShopTool = DIAL, by: str = "Ama", at: tuple[str, ...] = (),
    **more: object,
) -> Measured:  # fmt: skip
    """One event of readings, at numbered places where none are named."""
    places = at or tuple(str(place) for place in range(1, len(values) + 1))
    readings = tuple(Reading(value, place) for value, place in zip(values, places, strict=True))
    return Measured(id=f"m{number}", by=by, what=what, readings=readings, tool=tool.name, **more)  # type: ignore[arg-type]
