"""Lets the tests import the demo, which is not part of the installed program."""

import sys
from pathlib import Path

import pytest
from key_matching import DEMO, Told, told
from open_findings import OPEN

from lastbolt.cli.demo import SOURCES
from lastbolt.cli.read import read_files
from lastbolt.edge import documents
from lastbolt.edge.model_file import save_model
from lastbolt.words.engine import Engine
from lastbolt.words.machine import Machine

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what is known not to hold yet."""
    for item in items:
        reason = OPEN.get(item.name)
        if reason:
            item.add_marker(pytest.mark.xfail(reason=reason, strict=True))


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


@pytest.fixture(scope="session")
def machine(made: Path) -> Machine:
    """The big machine as the program reads its three documents."""
    return read_files([made / name for name in SOURCES], "Q222 irrigation pump engine").machine


@pytest.fixture(scope="session")
def kept_model(machine: Machine, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same as a model file, for the commands."""
    path = tmp_path_factory.mktemp("kept") / "q222.model.json"
    save_model(path, machine)
    return path


@pytest.fixture(scope="session")
def engine() -> Engine:
    """Engine no. 3 as it was found."""
    return documents.load(DEMO / "engine_3.json", Engine)


@pytest.fixture(scope="session")
def before(machine: Machine) -> Told:
    """The job up to the moment before the press."""
    return told(machine, "job")


@pytest.fixture(scope="session")
def cleared(machine: Machine) -> Told:
    """The same job after both hidden screws were found."""
    return told(machine, "job_cleared")


@pytest.fixture(scope="session")
def apart(machine: Machine) -> Told:
    """The same job, parted and measured."""
    return told(machine, "job_apart")
