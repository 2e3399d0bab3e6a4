"""`lastbolt measure`: what is to be measured, and what every reading decides."""

from argparse import Namespace
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.measure_job import Bench, before_work, events_to_keep, measure_job, sizes_of
from lastbolt.app.measure_shown import named, of_several, rows_shown, sentence, to_take, value_words
from lastbolt.cli import measure_keyboard, say
from lastbolt.cli.keyboard import somebody_there
from lastbolt.cli.papers import Papers, papers_from
from lastbolt.cli.plan import did_you_mean
from lastbolt.cli.typed_given import text_of
from lastbolt.edge import documents
from lastbolt.edge.safe_files import write_file
from lastbolt.edge.shop_lists import stock_from, tools_from
from lastbolt.measuring.decide import Rule
from lastbolt.measuring.readings import Setting, ran_out
from lastbolt.measuring.tools import doubts_of, tool_named, with_taken
from lastbolt.measuring.typed import Typed, typed_readings
from lastbolt.words.job import JOB_SCHEMA, Event, Job
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.readings import NOT_WITHIN, Readings, ShimsChosen

if TYPE_CHECKING:
    from lastbolt.words.back import Back
    from lastbolt.words.plan import Plan

RULES: dict[str, Rule] = {
    "printed": "printed limit", "accept": "guarded acceptance", "reject": "guarded rejection",
}  # fmt: skip


class Asked(Struct, frozen=True):
    """All that does not change while readings are typed."""

    papers: Papers
    plan: "Plan | None"
    back: "Back | None"
    bench: Bench
    told: tuple[Problem, ...] = ()

    def readings(self, typed: Typed) -> Readings:
        """What typed readings make of it."""
        made = measure_job(self.papers.machine, self.plan, self.back, replace(self.bench, typed=typed))
        return replace(made, problems=(*self.told, *made.problems))


def run(args: Namespace) -> int:
    """Show the sheet or the decisions: 0 all measured and within, 1 not so, 2 cannot answer."""
    asked = _asked(args)
    if asked is None:
        return 2
    typed = _typed(args, asked)
    made = asked.readings(typed)
    _write(args, made)
    if args.add:
        bench = replace(asked.bench, typed=typed)
        sizes = sum(sizes_of(asked.papers.machine, asked.plan, asked.back, bench), ())
        job = asked.papers.job or Job(JOB_SCHEMA, "", made.goal)
        _add(args, job, events_to_keep(typed, sizes, bench.tools))
    if args.json:
        say.as_json(made)
    else:
        show(made)
    return 0 if _all_good(made, asked) else 1


def _asked(args: Namespace) -> Asked | None:
    """The papers, the plan and the shop's lists; None when no goal is clearly meant, which is said."""
    from lastbolt.app.make_back import make_back
    from lastbolt.app.make_plan import make_plan

    today = _today(args.today)
    papers = papers_from(args)
    if not papers.has_model and not args.typed:
        do = "Give a model (--model FILE), or typed limits and readings (--typed FILE)."
        raise Refusal(Problem("LB-M09", "There is nothing to measure by.", "lastbolt measure", do, "stop"))
    plan = back = None
    if args.goal:
        # The sheet is that of the whole job, whatever of it is done.
        job = before_work(papers.job)
        plan = make_plan(papers.machine, args.goal, papers.engine, job)
        if not plan.procedures:
            did_you_mean(plan, papers.machine.procedures)
            return None
        back = make_back(papers.machine, plan, job)
    tools, told = tools_from(Path(args.tools)) if args.tools else ((), ())
    stock, more = stock_from(Path(args.stock)) if args.stock else (None, ())
    bench = Bench(papers.job, Typed(), tools, stock, Setting(RULES[args.rule], today), args.all)
    return Asked(papers, plan, back, bench, (*told, *more))


def _typed(args: Namespace, asked: Asked) -> Typed:
    """The typed lines: of a file, of another program, or asked for where the file is not there yet."""
    if not args.typed:
        return Typed()
    asks = args.more or not Path(args.typed).exists()
    if args.typed != "-" and not args.json and asks and somebody_there():
        return typed_readings(measure_keyboard.ask(args.typed, lambda text, last: _line(text, last, asked)))
    return typed_readings(text_of(args.typed))


def _line(text: str, last: int, asked: Asked) -> measure_keyboard.Line:
    """What the last line typed says."""
    typed = typed_readings(text)
    made = asked.readings(typed)
    here = f"line {last}"
    told = [f"{one.what} {one.do}" for one in made.problems if one.where == here]
    told += _tool_taken(text, typed.tool, asked)
    events = tuple(event for event, line in typed.lines.items() if line == last)
    who = " · ".join(part for part in (typed.by, typed.tool) if part)
    return measure_keyboard.Line(made, events, tuple(told), who)


def _tool_taken(text: str, name: str, asked: Asked) -> Iterator[str]:
    """What to know of a tool, as soon as it is named."""
    if not name or typed_readings(text.rpartition("\n")[0]).tool == name:
        return
    tools = with_taken(asked.bench.tools, asked.papers.job)
    tool = tool_named(name, tools)
    if tool is not None:
        yield from doubts_of(tool, asked.bench.setting.today)
    elif tools:
        yield f'"{name}" is not in the shop\'s list: {", ".join(one.name for one in tools)}.'


def _all_good(made: Readings, asked: Asked) -> bool:
    bench = asked.bench
    tools = with_taken(bench.tools, asked.papers.job)
    late = any(ran_out(one, tools, bench.setting.today) for one in made.decided)
    unshimmed = any(not one.choices for one in made.shims)
    told = any(one.grade != "note" for one in made.problems)
    open_ = made.open or late or unshimmed or told
    return bool(made.decided) and not open_ and not any(one.says in NOT_WITHIN for one in made.decided)


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
        say.say(f"{row.words} {f'{row.limits}.' if row.limits else ''}{place} {row.tool}", " " * 5, " " * 7)
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
