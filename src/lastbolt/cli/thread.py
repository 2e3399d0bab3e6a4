"""`lastbolt thread`: what a designation means, or which thread a measured one is."""

from argparse import Namespace

from lastbolt.app.thread_shown import Asked, thread_shown
from lastbolt.cli import say
from lastbolt.threads.designation import thread_of
from lastbolt.threads.identify import Match, identify
from lastbolt.words.problem import Problem, Refusal


def run(args: Namespace) -> int:
    """Show it: 0 understood, 1 measured and not one thread alone, 2 not understood."""
    words = " ".join(args.words)
    if not words and args.measured is None:
        do = "Give a designation (lastbolt thread M8x1), or what was measured (--measured 9.8 --pitch 1.5)."
        raise Refusal(Problem("LB-T50", "No thread was given.", "lastbolt thread", do, "stop"))
    if words and args.measured is None:
        return _designated(words, args)
    found = identify(args.measured, args.pitch, args.per_inch, "inside" if args.inside else "outside")
    if args.json:
        say.as_json(found)
    else:
        _show_found(found)
    return 0 if len(found) == 1 else 1


def _designated(words: str, args: Namespace) -> int:
    thread = thread_of(words)
    if thread is None:
        do = (
            "Write it as on the drawing: M8, M8x1, 1/4-20 UNC, G 1/4; a pitch is one that goes with the size."
        )
        raise Refusal(
            Problem("LB-T51", f'"{words}" is no thread that is known here.', "lastbolt thread", do, "stop")
        )
    asked = Asked(args.property_class, args.purpose, args.condition, args.metal, args.engagement)
    told = thread_shown(thread, asked)
    if args.json:
        say.as_json({"thread": thread, "told": told})
        return 0
    say.big(thread.designation)
    for one in told:
        source = f"  [{one.source}]" if one.source else ""
        say.say(f"{one.what}: {one.value}{source}", "", "  ")
    say.say("The maker's current manual comes first.")
    return 0


def _show_found(found: tuple[Match, ...]) -> None:
    """The candidates, best first."""
    if not found:
        say.big("No thread that is known here measures so.")
        say.say("Measure over the crests, and the pitch over several turns. Is it an inch thread? --per-inch")
        return
    first = found[0].thread.designation
    say.big(
        first if len(found) == 1 else f"{first}, or one of {len(found) - 1} more: measure again to part them."
    )
    for one in found:
        say.say(f"- {one.thread.designation}: {one.words}", "", "  ")
