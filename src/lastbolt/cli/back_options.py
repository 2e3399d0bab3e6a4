"""The options of the commands that put back."""

from argparse import ArgumentParser

from lastbolt.cli.options import GOAL, MODEL, Commands, add, corrections, job_files, typed, walk


def add_refit(commands: Commands) -> None:
    """`lastbolt refit`."""
    words = "the way back: put together again what a goal takes apart, and what is still missing or slack"
    refit = add(commands, "refit", words)
    refit.add_argument("goal", metavar="GOAL", help=f"the same as for plan: {GOAL}")
    refit.add_argument("--model", required=True, metavar="FILE", help=MODEL)
    corrections(refit)
    walk(refit)
    job_files(refit)
    typed(refit)
    refit.add_argument(
        "--minutes", type=float, metavar="LEFT", help="minutes left of the lesson: what is not begun any more"
    )
    refit.add_argument(
        "--map", metavar="FILE.svg", help="write the order of tightening of the first --walk as a drawing"
    )
    add_wrench(refit)
    refit.add_argument("--sheet", metavar="FILE.pdf", help="write it as a sheet to print, with boxes to tick")
    refit.add_argument("--out", metavar="FILE", help="also write the way back as JSON here")


def add_wrench(made: ArgumentParser) -> None:
    """What is known of the wrench."""
    made.add_argument(
        "--tools", metavar="FILE",
        help="the shop's tools (CSV, XLSX), torque wrenches among them: name, unit, range, resolution, "
        "calibrated until. What to set on which is shown for each torque",
    )  # fmt: skip
    made.add_argument(
        "--wrench",
        metavar="NAME",
        help='one of them by name, or any as its range: "5-50 N·m", "10-80 lbf·ft"',
    )
    made.add_argument(
        "--adaptor",
        metavar="MM",
        help='from its drive to the middle of the screw, "60" or "60 at 90" degrees',
    )
    made.add_argument(
        "--lever", type=float, metavar="MM", help="of --adaptor: from the middle of the grip to the drive"
    )
    made.add_argument("--today", default="", metavar="DATE", help="by which calibrations must still hold")


def add_order(commands: Commands) -> None:
    """`lastbolt order`."""
    order = add(commands, "order", "the parts to order for a goal: single use, found bad, missing, used up")
    order.add_argument("goal", metavar="GOAL", help=f"the same as for plan: {GOAL}")
    order.add_argument("--model", required=True, metavar="FILE", help=MODEL)
    corrections(order)
    walk(order)
    job_files(order)
    typed(order)
    order.add_argument(
        "--prices", metavar="FILE", help="a price list (CSV, XLSX): part number, price, superseded by"
    )
    order.add_argument(
        "--out",
        action="append",
        default=[],
        metavar="FILE",
        help="write it here too: a name that ends in .csv, .xlsx or .pdf. May be given again",
    )


def add_measure(commands: Commands) -> None:
    """`lastbolt measure`."""
    words = "the reading sheet of a goal, and what every reading decides against the sources' limits"
    made = add(commands, "measure", words)
    made.add_argument(
        "goal", nargs="?", default="", metavar="GOAL", help=f"{GOAL}; left out: every limit of the sources"
    )
    made.add_argument("--model", metavar="FILE", help=MODEL)
    corrections(made)
    job_files(made)
    made.add_argument(
        "--typed",
        metavar="FILE",
        help="readings in typed lines (docs/measuring.md), asked for at the keyboard if the file is not "
        "there yet; - for another program",
    )
    made.add_argument("--more", action="store_true", help="at the keyboard: go on with a --typed file")
    made.add_argument(
        "--tools", metavar="FILE",
        help="the shop's measuring tools (CSV, XLSX): name, kind, unit, range, resolution, uncertainty, "
        "calibrated until",
    )  # fmt: skip
    made.add_argument(
        "--stock", metavar="FILE", help="shims in stock (CSV, XLSX): name, part number, thickness, count"
    )
    made.add_argument("--today", default="", metavar="DATE", help="by which calibrations must still hold")
    made.add_argument(
        "--rule", default="printed", choices=("printed", "accept", "reject"),
        help="what decides near a limit: the printed limit (if not given), or a guard band of the expanded "
        "uncertainty inside it (accept) or outside it (reject)",
    )  # fmt: skip
    made.add_argument("--all", action="store_true", help="also limits that this goal does not need")
    made.add_argument("--sheet", metavar="FILE.pdf", help="write the reading sheet to print")
    made.add_argument("--plot", metavar="FILE.svg", help="draw the readings against their limits")
    made.add_argument("--out", metavar="FILE", help="also write the readings as JSON here")
    made.add_argument(
        "--add", action="store_true", help="also write the typed readings into the --job, for order and refit"
    )


def add_fit(commands: Commands) -> None:
    """`lastbolt fit`."""
    words = "what a fit means (limits, clearance or interference), and how far to warm the hub"
    made = add(commands, "fit", words)
    made.add_argument("words", nargs="*", metavar="FIT", help="72 H7/m6, 35 k6; with --bearing its group: C3")
    made.add_argument("--hole", type=float, metavar="MM", help="two measured sizes instead: the hole")
    made.add_argument("--shaft", type=float, metavar="MM", help="and the shaft")
    made.add_argument("--hub", default="", metavar="METAL", help="what is warmed: steel, cast aluminium")
    made.add_argument("--play", type=float, default=0.02, metavar="MM", help="to go over with (0.02)")
    made.add_argument(
        "--bearing", type=float, metavar="BORE", help="clearance of a ball bearing of this bore"
    )


def add_board(commands: Commands) -> None:
    """`lastbolt board`."""
    words = "the pattern of a joint at full size on paper: a card that holds each fastener at its own place"
    board = add(commands, "board", words)
    board.add_argument(
        "--walk", required=True, metavar="FILE", help="the joint as somebody went round it, places in mm"
    )
    board.add_argument("--out", required=True, metavar="FILE.pdf", help="write the sheets here")


def add_thread(commands: Commands) -> None:
    """`lastbolt thread`."""
    words = "what a thread means (wrench, drill, loads, torque), or which one was measured"
    thread = add(commands, "thread", words)
    thread.add_argument("words", nargs="*", metavar="THREAD", help="M8, M8x1, 1/4-20 UNC, G 1/4")
    thread.add_argument("--measured", type=float, metavar="MM", help="diameter over the crests instead")
    thread.add_argument("--pitch", type=float, metavar="MM", help="its pitch, measured over several turns")
    thread.add_argument("--per-inch", type=float, metavar="N", help="or its threads per inch")
    thread.add_argument("--inside", action="store_true", help="the hole was measured, not the screw")
    thread.add_argument("--class", dest="property_class", default="", help="8.8, grade 5: adds the loads")
    thread.add_argument("--purpose", default="", help="what it holds: a general torque, or why there is none")
    thread.add_argument(
        "--condition", default="unknown", choices=("dry", "oiled", "plated", "unknown"), help="of the thread"
    )
    thread.add_argument("--metal", default="", help="what it goes into: cast aluminium, grey iron")
    thread.add_argument("--engagement", type=float, metavar="MM", help="full thread that holds in that metal")
