"""`lastbolt search`: where words stand in the sources."""

from argparse import Namespace
from pathlib import Path

from lastbolt.cli import say
from lastbolt.cli.report import beside
from lastbolt.edge import documents
from lastbolt.edge.plain_text import plain
from lastbolt.edge.source_words import passages_of
from lastbolt.searching.index import Hit, Index
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine
from lastbolt.words.where import where

MOST_SHOWN = 25


def run(args: Namespace) -> int:
    """Show where all the words stand: 0 found, 1 not found, 2 a file cannot be read."""
    model = Path(args.model)
    machine = documents.load(model, Machine)
    folder = Path(args.sources) if args.sources else beside(model)
    progress = say.Progress("reading the sources' words")
    try:
        passages, problems = passages_of(machine, folder, progress)
    finally:
        progress.close()
    query = plain(" ".join(args.words))
    hits = Index(passages).search(query)
    if args.json:
        say.as_json({"query": query, "hits": hits, "problems": problems})
        return 0 if hits else 1
    say.problems(problems)
    titles = {source.id: source.title for source in machine.sources}
    say.big(_found(query, hits))
    last: bool | None = None
    for hit in hits[:MOST_SHOWN]:
        if not hit.near and last is not False:
            say.heading("On the same page, but not together")
        last = hit.near
        say.say(
            f"{where(Citation(hit.source, hit.place), titles.get(hit.source, ''))}: {_words(hit)}",
            "  ",
            "    ",
        )
    if len(hits) > MOST_SHOWN:
        say.say(f"... and {len(hits) - MOST_SHOWN} more places: lastbolt search ... --json")
    return 0 if hits else 1


def _found(query: str, hits: tuple[Hit, ...]) -> str:
    if not hits:
        return f'"{query}" stands nowhere in these sources.'
    return f'"{query}": {say.count(len(hits), "place")}.'


def _words(hit: Hit) -> str:
    left, right = "[", "]"
    before = f"... {hit.before}" if hit.before else ""
    after = f"{hit.after} ..." if hit.after else ""
    return " ".join(part for part in (before, f"{left}{hit.found}{right}", after) if part)
