"""`lastbolt board`: the pattern of a joint at full size, for a card that holds each fastener at its place."""

from argparse import Namespace
from pathlib import Path

import msgspec

from lastbolt.app.bolt_board import bolt_board
from lastbolt.cli import say
from lastbolt.edge import documents
from lastbolt.edge.plain_text import plain_values
from lastbolt.edge.safe_files import write_file
from lastbolt.edge.typeset import typeset
from lastbolt.words.joint import Walk

FOOT = "A card of this holds each fastener at its own place."


def run(args: Namespace) -> int:
    """Write the board: 0 written, 2 the walk cannot be read or says of no place where it is."""
    board = bolt_board(documents.load(Path(args.walk), Walk))
    data = {"board": plain_values(msgspec.to_builtins(board)), "foot": FOOT}
    write_file(Path(args.out), typeset("board.typ", data))
    if args.json:
        say.as_json(board)
        return 0
    sheets = say.count(len(board.sheets), "sheet")
    say.big(f"{board.joint}: {say.count(len(board.holes), 'hole')} on {sheets}.")
    say.say("Print at 100 %, measure the check line, glue the strips, and punch the holes.")
    unsized = [hole.label for hole in board.holes if not hole.sized]
    if unsized:
        say.say(f"Of {', '.join(unsized)} nobody says the size: their holes are only marks.")
    say.line(f"Written: {args.out}")
    return 0
