"""What docstrings say is there and true: everything public has one, and their examples run."""

import ast
import doctest
import importlib
from pathlib import Path

import pytest

SRC = Path(__file__).parents[2] / "src" / "lastbolt"
MODULES = sorted(path for path in SRC.rglob("*.py") if path.name not in ("__init__.py", "__main__.py"))
WITH_EXAMPLES = [path for path in MODULES if ">>> " in path.read_text(encoding="utf-8")]


def name_of(path: Path) -> str:
    return ".".join(path.relative_to(SRC.parent).with_suffix("").parts)


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_every_module_class_and_function_says_what_it_is(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    public = [
        node
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_")
    ]
    assert ast.get_docstring(tree)
    assert [node.name for node in public if not ast.get_docstring(node)] == []


@pytest.mark.parametrize("path", WITH_EXAMPLES, ids=name_of)
def test_examples_are_true(path: Path) -> None:
    tried = doctest.testmod(importlib.import_module(name_of(path)))
    assert tried.attempted > 0
    assert tried.failed == 0


def test_some_examples_are_there() -> None:
    assert WITH_EXAMPLES
