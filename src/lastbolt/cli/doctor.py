"""`lastbolt doctor`: what this installation has and whether each part works."""

import platform
import sys
from argparse import Namespace
from collections.abc import Callable
from importlib import metadata

import lastbolt
from lastbolt.cli import say

LIBRARIES = ("msgspec", "pypdfium2", "highspy", "typst", "jinja2")


def run(args: Namespace) -> int:
    """Check every part; 0 when all work, 2 when one does not."""
    found = [("lastbolt", lastbolt.__version__, True), ("python", platform.python_version(), True)]
    found += [_library(name) for name in LIBRARIES]
    found += [_works(name, check) for name, check in CHECKS]
    if args.json:
        say.as_json([{"part": n, "says": s, "works": w} for n, s, w in found])
    else:
        say.table([(n, "yes" if w else "NO", s) for n, s, w in found], ("part", "works", "says"))
    return 0 if all(works for _, _, works in found) else 2


def _library(name: str) -> tuple[str, str, bool]:
    try:
        return name, metadata.version(name), True
    except metadata.PackageNotFoundError:
        return name, "missing: make demo installs it", False


def _works(name: str, check: Callable[[], str]) -> tuple[str, str, bool]:
    try:
        return name, check(), True
    except Exception as error:  # a doctor reports every fault, whatever it is
        return name, f"{type(error).__name__}: {error}", False


def _solver() -> str:
    from lastbolt.tally.solve import solve
    from lastbolt.words.claims import Cause, Claim, ClaimSet, Settings, Unknown

    look = Claim("look", "look", (("in", 1),), "=", 0, ("wrong",))
    told = ClaimSet((Unknown("in", 1),), (Cause("wrong", "look"),), (look,), ("in",))
    account = solve(told, Settings())
    if (account.free_cost, account.held_cost) != (0, 1):
        raise RuntimeError(f"one look should cost 0 and 1, not {account.free_cost} and {account.held_cost}")
    return "one look: 0 mistakes for free, 1 for held, as it must be"


def _paper() -> str:
    import typst

    made = typst.compile(b"#set page(width: 20mm, height: 20mm)\nlastbolt")
    return f"a page of {len(made)} bytes"


def _terminal() -> str:
    return f"{say.width()} columns, {sys.stdout.encoding}"


CHECKS: tuple[tuple[str, Callable[[], str]], ...] = (
    ("tally", _solver),
    ("paper", _paper),
    ("terminal", _terminal),
)
