"""Lets the tests import the demo, which is not part of the installed program."""

import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder with the big machine's documents."""
    from demo.generate import generate

    folder = tmp_path_factory.mktemp("q222")
    generate(folder)
    return folder


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder with the small winch's documents."""
    from demo.small.generate import generate

    folder = tmp_path_factory.mktemp("w1")
    generate(folder)
    return folder
