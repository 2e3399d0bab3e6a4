"""`lastbolt fit`: what a fit means, what two measured parts make together, how far to warm the hub."""

from argparse import Namespace

from lastbolt.app.fit_shown import Told, bearing_shown, fit_asked, fit_shown, measured_fit
from lastbolt.cli import say
from lastbolt.words.problem import Problem, Refusal


def run(args: Namespace) -> int:
    """Show it: 0 understood, 2 not understood."""
    words = " ".join(args.words)
    title, told = _told(words, args)
    if args.json:
        say.as_json({"fit": title, "told": told})
        return 0
    say.big(title)
    for one in told:
        source = f"  [{one.source}]" if one.source else ""
        say.say(f"{one.what}: {one.value}{source}", "", "  ")
    say.say("The maker's current manual comes first.")
    return 0


def _told(words: str, args: Namespace) -> tuple[str, tuple[Told, ...]]:
    try:
        if args.bearing is not None:
            told = bearing_shown(args.bearing, words)
            return f"Ball bearing, bore {args.bearing:g} mm", told or _refuse(f"{words} {args.bearing:g}")
        if args.hole is not None and args.shaft is not None:
            return "As measured", measured_fit(args.hole, args.shaft, args.hub, args.play)
        asked = fit_asked(words)
        return words, fit_shown(asked, args.hub, args.play) if asked else _refuse(words)
    except ValueError as error:
        raise _refusal(words, str(error)) from None


def _refuse(words: str) -> tuple[Told, ...]:
    raise _refusal(words, "not understood, or not in the tables")


def _refusal(words: str, why: str) -> Refusal:
    do = (
        "Write size and classes (lastbolt fit 72 H7/m6), measured sizes (--hole 71.99 --shaft 72.01), or a "
        "bearing (lastbolt fit C3 --bearing 35)."
    )
    return Refusal(Problem("LB-M16", f'"{words}": {why}.', "lastbolt fit", do, "stop"))
