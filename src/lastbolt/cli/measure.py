"""`lastbolt measure`: what is to be measured, and what every reading decides."""

from argparse import Namespace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace

from lastbolt.app.measure_job import Bench, before_work, events_to_keep, measure_job, sizes_of
from lastbolt.app.measure_shown import named, of_several, rows_shown, sentence, to_take, value_words
from lastbolt.cli import say
from lastbolt.cli.papers import papers_from
from lastbolt.cli.plan import did_you_mean
from lastbolt.cli.typed_given import text_of
from lastbolt.edge import documents
from lastbolt.edge.safe_files import write_file
from lastbolt.edge.shop_lists import stock_from, tools_from
from lastbolt.measuring.decide import Rule
from lastbolt.measuring.readings import Setting, ran_out
from lastbolt.measuring.tools import with_taken
from lastbolt.measuring.typed import Typed, typed_readings
from lastbolt.words.job import JOB_SCHEMA, Event, Job
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.readings import NOT_WITHIN, Readings, ShimsChosen

if TYPE_CHECKING:
    from lastbolt.words.plan import Plan

RULES: dict[str, Rule] = {
    "printed": "printed limit", "accept": "guarded acceptance", "reject": "guarded rejection",
}  # fmt: skip


def run(args: Namespace) -> int:
    """Show the sheet or the decisions: 0 all measured and within, 1 not so, 2 cannot answer."""
    from lastbolt.app.make_back import make_back
    from lastbolt.app.make_plan import make_plan

    today = _today(args.today)
    papers = papers_from(args)
    if not papers.has_model and not args.typed:
        do = "Give a model (--model FILE), or typed limits and readings (--typed FILE)."
        raise Refusal(Problem("LB-M09", "There is nothing to measure by.", "lastbolt measure", do, "stop"))
    plan: Plan | None = None
    if args.goal:
        job = before_work(papers.job)
        plan = make_plan(papers.machine, args.goal, papers.engine, job)
        if not plan.procedures:
            did_you_mean(plan, papers.machine.procedures)
            return 2
    back = make_back(papers.machine, plan, before_work(papers.job)) if plan else None
    tools, told = tools_from(Path(args.tools)) if args.tools else ((), ())
    stock, more = stock_from(Path(args.stock)) if args.stock else (None, ())
    typed = typed_readings(text_of(args.typed)) if args.typed else Typed()
    bench = Bench(papers.job, typed, tools, stock, Setting(RULES[args.rule], today), args.all)
    made = measure_job(papers.machine, plan, back, bench)
    made = replace(made, problems=(*told, *more, *made.problems))
    _write(args, made)
    if args.add:
        sizes = sizes_of(papers.machine, plan, back, bench)
        _add(args, papers.job or Job(JOB_SCHEMA, "", made.goal), events_to_keep(typed, sum(sizes, ()), tools))
    if args.json:
        say.as_json(made)
    else:
        show(made)
    late = any(ran_out(one, with_taken(tools, papers.job), today) for one in made.decided)
    unshimmed = any(not one.choices for one in made.shims)
    told_of = any(one.grade != "note" for one in made.problems)
    whole = made.decided and not (made.open or late or unshimmed or told_of)
    return 0 if whole and not any(one.says in NOT_WITHIN for one in made.decided) else 1


def _today(said: str) -> str:
    if not said:
        return date.today().isoformat()
    try:
        return date.fromisoformat(said).isoformat()
    except ValueError:
        do = "Write it as year-month-day: 2026-11-30."
        raise Refusal(Problem("LB-M10", f'"{said}" is no date.', "--today", do, "stop")) from None


def _write(args: Namespace, made: Readings) -> None:
    """The files that were asked for."""
    if args.out:
        documents.save(Path(args.out), made)
    if args.plot:
        from lastbolt.drawing.readings_plot import readings_svg

        write_file(Path(args.plot), readings_svg(made).encode())
    if args.sheet:
        from lastbolt.edge.measure_sheet import measure_pdf

        machine = f"{made.machine} · " if made.machine else ""
        foot = f"lastbolt · {machine}the maker's current manual comes first"
        write_file(Path(args.sheet), measure_pdf(made, foot))


def _add(args: Namespace, job: Job, events: tuple[Event, ...]) -> None:
    """The typed readings behind the events of the job; those that it holds already are not added again."""
    if not args.job or not args.typed:
        do = "Give both: --job FILE --typed FILE."
        raise Refusal(Problem("LB-M11", "--add writes typed readings into a job.", "--add", do, "stop"))
    held = set(job.events)
    new = tuple(one for one in events if one not in held)
    documents.save(Path(args.job), replace(job, events=(*job.events, *new)))


def show(made: Readings) -> None:
    """The sentence first, then what matters most."""
    say.big(sentence(made))
    title = ""
    for row in rows_shown(made):
        if row.title != title:
            title = row.title
            say.heading(title)
        say.say(f"{row.number:>3}  {row.name}: {row.value}", "", " " * 7)
        place = f" [{row.where}]" if row.where else ""
        say.say(f"{row.words} {f'{row.limits}.' if row.limits else ''}{place}", " " * 5, " " * 7)
        for line in row.lines:
            say.say(line if line.startswith("?") else f"- {line}", " " * 5, " " * 7)
    if several := of_several(made):
        say.heading("Of several alike")
    for words, numbers in several:
        say.say(f"- {words} ({numbers})", "", "  ")
    if made.sizes:
        say.heading("Measured to reckon with")
        for one in made.sizes:
            say.say(f"- {named(one)}: {value_words(one)}", "", "  ")
    for chosen in made.shims:
        _shims(chosen)
    _open(made)
    say.problems(made.problems)
    say.say()
    say.say("The maker's current manual, local codes and licensed practice come first.")


def _shims(made: ShimsChosen) -> None:
    say.heading(f"Shims: {made.what}, {made.target}")
    say.say(f"Wanted in all: {made.wanted} ({made.convention}).")
    for number, choice in enumerate(made.choices, 1):
        say.say(f"{number}. {choice}", "", "   ")
    for line in made.told:
        say.say(f"- {line}", "", "  ")


def _open(made: Readings) -> None:
    still = [one for one in to_take(made) if int(one.number) in made.open]
    if still:
        say.heading("To measure")
    for one in still:
        limits = "; ".join(part for part in (one.standard, one.limit) if part)
        place = f" [{one.where}]" if one.where else ""
        say.say(f"{one.number:>3}  {one.name}: {limits}{place}", "", " " * 7)
        say.say(f"{one.how} {f'With: {one.tools}.' if one.tools else ''}", " " * 5, " " * 5)
        if one.barred:
            say.say(f"? Its limits decide nothing: {one.barred}.", " " * 5, " " * 7)
    if made.others:
        say.say()
        say.say(
            f"{made.others} more limits in the sources, which this goal does not need (--all shows them)."
        )
