"""Imports point one way: cli -> edge -> app -> domain packages -> words; the domain touches no world."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SRC = Path(__file__).parents[2] / "src" / "lastbolt"
RANK = {
    "words": 0, "threads": 1,
    "reading": 2, "planning": 2, "tally": 2, "drawing": 2, "comparing": 2, "correcting": 2, "searching": 2,
    "tightening": 2, "measuring": 2, "selecting": 2, "refitting": 2, "ordering": 2,
    "record": 2,
    "app": 3, "edge": 4, "cli": 5, "__main__": 6,
}  # fmt: skip
DOMAIN = [name for name, rank in RANK.items() if rank <= 2]
WORLD = {
    "sqlite3", "socket", "subprocess", "multiprocessing", "time", "datetime", "random", "secrets", "uuid",
    "os", "pathlib", "io", "shutil", "tempfile", "urllib", "http", "asyncio", "threading",
    "pypdfium2", "typst", "jinja2", "starlette", "uvicorn",
}  # fmt: skip
PURE_USES_OF_THE_WORLD = {
    # a domain file may read its own words-as-data once, through importlib.resources, and measure a time limit
    ("tally", "time"),
}


def modules() -> list[Path]:
    return sorted(p for p in SRC.rglob("*.py") if p.name != "__init__.py" or p.parent != SRC)


def imported(path: Path) -> Iterator[str]:
    """Every module named by an import, lazy and type-only imports included."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            yield node.module or ""
            if node.module == "lastbolt":
                yield from (f"lastbolt.{alias.name}" for alias in node.names)


def package(path: Path) -> str:
    first = path.relative_to(SRC).parts[0]
    return first.removesuffix(".py")


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(SRC)))
def test_imports_point_one_way(path: Path) -> None:
    here = package(path)
    assert here in RANK, f"{here}: give this package its rank here and in docs/architecture.md"
    for name in imported(path):
        parts = name.split(".")
        if parts[0] != "lastbolt" or len(parts) == 1 or parts[1] == "__version__":
            continue
        there = parts[1]
        assert there == here or RANK[there] < RANK[here], f"{path.name} imports {name}"


@pytest.mark.parametrize(
    "path", [p for p in modules() if package(p) in DOMAIN], ids=lambda p: str(p.relative_to(SRC))
)
def test_domain_touches_no_world(path: Path) -> None:
    for name in imported(path):
        root = name.split(".")[0]
        assert root not in WORLD or (package(path), root) in PURE_USES_OF_THE_WORLD, (
            f"{path.name} imports {name}"
        )


def test_domain_packages_do_not_import_each_other_or_loop() -> None:
    edges: dict[str, set[str]] = {}
    for path in modules():
        module = "lastbolt." + ".".join(path.relative_to(SRC).with_suffix("").parts)
        edges[module.removesuffix(".__init__")] = {n for n in imported(path) if n.startswith("lastbolt.")}
    done: set[str] = set()

    def leaves(module: str, trail: tuple[str, ...]) -> None:
        assert module not in trail, " -> ".join([*trail[trail.index(module) :], module])
        if module in done:
            return
        for target in sorted(edges.get(module, ())):
            leaves(target, (*trail, module))
        done.add(module)

    for module in sorted(edges):
        leaves(module, ())
