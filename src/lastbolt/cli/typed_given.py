"""Typed lines that a command was given: their text, and the work that they tick."""

import re
import sys
from pathlib import Path

from lastbolt.cli.papers import Papers, with_ticks
from lastbolt.cli.tally_about import check_machine
from lastbolt.edge.typed_in import MOST_BYTES, typed_file, typed_text
from lastbolt.tally.problems import typed_other_document
from lastbolt.words.problem import Refusal

DOCUMENT = re.compile(r'^\s*\{[^{}\[\]]*"schema"\s*:\s*"lastbolt\.(\w+)/')
OPTION_OF = {"walk": "--walk", "job": "--job", "engine": "--engine", "model": "--model"}


def ticked_in(papers: Papers, text: str, goal: str) -> Papers:
    """The papers with the work that typed lines tick.

    Raises:
        Refusal: the lines are of another machine.
    """
    from lastbolt.app.typed_ticks import typed_ticks

    check_machine(text, papers)
    return with_ticks(papers, typed_ticks(text, papers.machine).every, goal)


def text_of(file: str | None) -> str:
    """The typed lines of a file, or of another program."""
    if not file or file == "-":
        return _from_another_program()
    text = typed_file(Path(file))
    if found := DOCUMENT.search(text[:2000]):
        option = OPTION_OF.get(found[1], "the option for it")
        raise Refusal(typed_other_document(f"lastbolt.{found[1]}", option))
    return text


def _from_another_program() -> str:
    binary = getattr(sys.stdin, "buffer", None)
    return typed_text(binary.read(MOST_BYTES + 1), "-") if binary else sys.stdin.read()
