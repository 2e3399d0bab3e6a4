"""`lastbolt order`: the parts to order for a job, by part number, each with its reasons."""

from argparse import Namespace
from pathlib import Path

from lastbolt.app.order_shown import quantity, why
from lastbolt.cli import say
from lastbolt.cli.papers import papers_from, with_readings
from lastbolt.cli.plan import did_you_mean
from lastbolt.cli.plan_text import at
from lastbolt.cli.typed_back import recorded
from lastbolt.edge.order_files import FORMS, order_file
from lastbolt.edge.safe_files import write_file
from lastbolt.edge.table_in import read_table
from lastbolt.edge.workbook_in import WORKBOOKS, read_workbook
from lastbolt.ordering.order_list import Work, order_list
from lastbolt.ordering.prices import prices_of
from lastbolt.refitting.account import account
from lastbolt.words.order import Order, OrderLine, Price
from lastbolt.words.problem import Problem, Refusal


def run(args: Namespace) -> int:
    """Show and write the order: 0 every line has a number and a quantity, 1 some have not, 2 no such goal."""
    from lastbolt.app.make_back import make_back
    from lastbolt.app.make_plan import make_plan

    for name in args.out:
        _check_form(Path(name))
    papers, typed = recorded(with_readings(papers_from(args)), args)
    prices, told = _prices(Path(args.prices)) if args.prices else (None, ())
    told = (*told, *typed)
    plan = make_plan(papers.machine, args.goal, papers.engine, papers.job)
    if not plan.procedures:
        did_you_mean(plan, papers.machine.procedures)
        return 2
    back = make_back(papers.machine, plan, papers.job)
    stand = account(plan, back, papers.walks, papers.engine, papers.job)
    order = order_list(Work(papers.machine, plan, back, stand, papers.engine, papers.job), prices)
    foot = f"lastbolt · {plan.machine} · the maker's current parts list comes first"
    for name in args.out:
        write_file(Path(name), order_file(order, Path(name), foot))
    if args.json:
        say.as_json(order)
    else:
        show(order)
        for name in args.out:
            say.line(f"Written: {name}")
        say.problems((*told, *order.problems))
    return 0 if not told and all(_whole(line) for line in order.lines) else 1


def _whole(line: OrderLine) -> bool:
    """Whether it can be ordered as it stands; a consumable is asked for by name and amount."""
    return not line.doubt


def _check_form(path: Path) -> None:
    if path.suffix.lower() not in FORMS:
        do = f"End its name in one of: {', '.join(FORMS)}."
        raise Refusal(
            Problem("LB-O05", "No form of an order is known by that ending.", str(path), do, "stop")
        )


def _prices(path: Path) -> tuple[dict[str, Price], tuple[Problem, ...]]:
    """The price list; of a workbook all its sheets together."""
    if path.suffix.lower() not in WORKBOOKS:
        return prices_of(read_table(path).sheet, str(path))
    prices: dict[str, Price] = {}
    told: tuple[Problem, ...] = ()
    for sheet in read_workbook(path):
        more, problems = prices_of(sheet.table.sheet, f"{path}, sheet {sheet.name}")
        prices, told = {**more, **prices}, (*told, *problems)
    return prices, told


def show(order: Order) -> None:
    """The order, the number of lines first."""
    look = sum(bool(line.doubt) for line in order.lines)
    more = f", {look} to be looked at first" if look else ""
    if not order.lines:
        say.big("Nothing to order.")
        return
    say.big(f"{say.count(len(order.lines), 'part')} to order{more}.")
    for line in order.lines:
        number = line.part_number or "?"
        size = f" ({line.size})" if line.size and line.size not in line.name else ""
        stands = f", for {', '.join(line.replaces)}" if line.replaces else ""
        price = f"  {line.price:.2f} each" if line.price is not None else ""
        say.say(f"{quantity(line):>4}  {number}{stands}  {line.name}{size}{price}", "", " " * 6)
        say.say(f"{why(line)}{at(line.citations)}", " " * 6, " " * 8)
        if line.doubt:
            say.say(f"Look: {line.doubt}", " " * 6, " " * 8)
    if order.total is not None:
        without = f" ({order.without} without a price or a count)" if order.without else ""
        say.say(f"\nTotal {order.total:.2f}{without}")
    say.say("Check each number against the maker's current parts list before ordering.")
