"""The tightening of one joint in the terminal: torque, order, and which length goes where."""

from itertools import groupby

from lastbolt.cli import say
from lastbolt.cli.plan_text import at
from lastbolt.words.lengths import Placing
from lastbolt.words.place_runs import listed
from lastbolt.words.torque_map import TorqueMap


def show_map(made: TorqueMap) -> None:
    """Torque and who says so, the rounds, then the lengths."""
    say.heading(f"Tightening: {made.name or made.joint}")
    if made.torque:
        say.say(f"{made.torque}  [{made.source}]{at(made.citations)}", "", "  ")
    if made.no_value:
        say.say(f"No torque: {made.no_value}. Ask for the maker's value.", "", "  ")
    for doubt in made.doubts:
        say.say(f"! {doubt}", "", "  ")
    line = made.rounds[-1].places if made.rounds else ()
    if line:
        say.say(f"Order: {', '.join(line)}", "", "  ")
        say.say(made.order_source, "  ", "  ")
    for round_ in made.rounds if len(made.rounds) > 1 else ():
        say.say(f"Round {round_.number}: {round_.words}", "  ", "    ")
    if made.lap:
        say.say("Then once round at the full torque.", "  ")
    if made.lengths is not None:
        _show_lengths(made.lengths, {one.place: one.label for one in made.places})


def _show_lengths(placing: Placing, labels: dict[str, str]) -> None:
    """Places with one length and one reason in one line; what has none, and what is over, after them."""
    say.say("Lengths:")
    key = [(one.length_mm is None, one.length_mm or 0.0, one.why) for one in placing.placed]
    order = sorted(range(len(key)), key=lambda n: key[n])
    for (_, length, why), some in groupby(order, key=lambda n: key[n]):
        here = listed([labels.get(placing.placed[n].place, placing.placed[n].place) for n in some])
        said = f"x{length:g}" if length else "none"
        say.say(f"{said:>5}  at {here}: {why}", "  ", " " * 9)
    for over in placing.over:
        say.say(f"over: {over.count} {over.thread} x {over.length_mm:g}", "  ")
