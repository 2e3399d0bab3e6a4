"""The demo job after the press: measured, parts to order, the way back with its map, and the end of it."""

from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.beyond_found import with_beyond
from lastbolt.app.make_plan import make_plan
from lastbolt.app.measure_job import Bench, measure_job
from lastbolt.app.measure_shown import sentence
from lastbolt.app.refit_joint import WayBackMade, refit_joint
from lastbolt.app.refit_shown import boxes
from lastbolt.cli import say
from lastbolt.cli.papers import Papers, answer_for
from lastbolt.cli.refit import sheet_of
from lastbolt.drawing.order_map import order_svg
from lastbolt.drawing.readings_plot import readings_svg
from lastbolt.edge import documents
from lastbolt.edge.measure_sheet import measure_pdf
from lastbolt.edge.order_files import order_file
from lastbolt.edge.safe_files import write_file
from lastbolt.edge.shop_lists import stock_from, tools_from
from lastbolt.edge.table_in import read_table
from lastbolt.edge.typed_in import typed_file
from lastbolt.measuring.readings import Setting
from lastbolt.measuring.typed import typed_readings
from lastbolt.ordering.order_list import Work, order_list
from lastbolt.ordering.prices import prices_of
from lastbolt.words.job import Job
from lastbolt.words.order import Order

CLEARED, APART, FINISHED = "job_cleared.json", "job_apart.json", "job_finished.json"
PRICES = "prices.csv"
BENCH_FILES = (CLEARED, APART, FINISHED, PRICES, "tools.csv", "shims.csv", "readings.txt", "float.txt")
MEASURED_ON = "2026-09-23"
"""The day of the demo's measuring: by it the tools' calibrations are looked at."""


class Told(Struct, frozen=True):
    """One thing that was made: the sentence about it, and the file to look at."""

    words: str
    file: Path | None = None


def rest_of_the_job(papers: Papers, out: Path) -> list[Told]:
    """Everything from the cleared joint to the finished job, each written into the folder."""
    cleared = _at(papers, out / CLEARED)
    plan = make_plan(papers.machine, _goal(cleared), papers.engine, cleared.job)
    apart = _way_back(_at(papers, out / APART))
    finished = _way_back(_at(papers, out / FINISHED))
    order = _order(_at(papers, out / APART), apart, out)
    sheet, drawing, end = out / "way_back.pdf", out / "way_back_map.svg", out / "finished.pdf"
    write_file(sheet, sheet_of(apart))
    if apart.tightening:
        write_file(drawing, order_svg(apart.tightening[0]).encode())
    write_file(end, sheet_of(finished))
    measured = _measured(_at(papers, out / APART), apart, out)
    return [
        Told(f"Cleared, after both were found: {answer_for(cleared, plan).sentence}"),
        measured,
        Told(_ordered(order), out / "order.pdf"),
        _shims(papers, out),
        Told(_returned(apart), sheet),
        Told(_ended(finished), end),
    ]


def _at(papers: Papers, job: Path) -> Papers:
    """The papers at another point of the job, what is beyond its limit found bad."""
    return replace(papers, job=with_beyond(papers.machine, documents.load(job, Job)))


def _goal(papers: Papers) -> str:
    return papers.job.goal if papers.job else ""


def _way_back(papers: Papers) -> WayBackMade:
    plan = make_plan(papers.machine, _goal(papers), papers.engine, papers.job)
    return refit_joint(papers.machine, plan, papers.walks, papers.engine, papers.job)


def _order(papers: Papers, made: WayBackMade, out: Path) -> Order:
    """The order as PDF and CSV, by the shop's price list."""
    plan = make_plan(papers.machine, _goal(papers), papers.engine, papers.job)
    prices, _ = prices_of(read_table(out / PRICES).sheet, PRICES)
    order = order_list(Work(papers.machine, plan, made.back, made.account, papers.engine, papers.job), prices)
    for name in ("order.pdf", "order.csv"):
        write_file(out / name, order_file(order, out / name, _foot(papers, "parts list")))
    return order


def _measured(papers: Papers, apart: WayBackMade, out: Path) -> Told:
    """Every reading decided, as a sheet and as a drawing."""
    plan = make_plan(papers.machine, _goal(papers), papers.engine, papers.job)
    bench = Bench(job=papers.job, setting=Setting(today=MEASURED_ON))
    made = measure_job(papers.machine, plan, apart.back, bench)
    sheet = out / "measured.pdf"
    write_file(sheet, measure_pdf(made, _foot(papers, "manual")))
    write_file(out / "measured.svg", readings_svg(made).encode())
    words = sentence(made)
    return Told(f"Measured: {words[:1].lower()}{words[1:]}", sheet)


def _shims(papers: Papers, out: Path) -> Told:
    """The shims for the end float, from those at hand."""
    tools, _ = tools_from(out / "tools.csv")
    stock, _ = stock_from(out / "shims.csv")
    typed = typed_readings(typed_file(out / "float.txt"))
    made = measure_job(
        papers.machine, None, None, Bench(typed=typed, tools=tools, stock=stock, setting=Setting())
    )
    chosen = [choice for one in made.shims for choice in one.choices[:1]]
    return Told(f"Shims at hand for the end float: {'; '.join(chosen)}")


def _foot(papers: Papers, first: str) -> str:
    return f"lastbolt · {papers.machine.name} · the maker's current {first} comes first"


def _ordered(order: Order) -> str:
    look = sum(bool(line.doubt) for line in order.lines)
    total = f", {order.total:.2f} by the price list" if order.total is not None else ""
    more = f", {look} to be looked at first" if look else ""
    return f"To order: {say.count(len(order.lines), 'line')}{total}{more}."


def _returned(made: WayBackMade) -> str:
    torque = next((f", {one.torque}" for one in made.tightening if one.torque), "")
    return f"The way back: {say.count(boxes(made.back), 'line')}, the order of tightening as a map{torque}."


def _ended(made: WayBackMade) -> str:
    sentence = made.sentence
    return f"Together again: {sentence[:1].lower()}{sentence[1:]}"
