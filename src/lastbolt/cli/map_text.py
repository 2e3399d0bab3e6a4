"""The tightening of one joint in the terminal: torque, order, and which length goes where."""

from lastbolt.app.refit_shown import lengths_shown
from lastbolt.cli import say
from lastbolt.cli.plan_text import at
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
    for other in made.elsewhere:
        say.say(other, "  ", "    ")
    for round_ in made.rounds if len(made.rounds) > 1 else ():
        say.say(f"Round {round_.number}: {round_.words}", "  ", "    ")
    if made.lap:
        say.say("Then once round at the full torque.", "  ")
    if made.scatter:
        say.say(made.scatter, "", "  ")
    lengths = lengths_shown(made)
    if lengths:
        say.say("Lengths:")
    for one in lengths:
        say.say(f"{one.length:>5}  at {one.places}: {one.why}", "  ", " " * 9)
    for over in made.lengths.over if made.lengths else ():
        say.say(f"over: {over.count} {over.thread} x {over.length_mm:g}", "  ")
