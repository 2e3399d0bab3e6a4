"""A file is whole or as it was: whatever happens while it is written."""

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from lastbolt.edge.safe_files import make_folder, sha256_of, whole_file, write_file
from lastbolt.words.problem import Refusal


def test_the_new_content_takes_the_old_ones_place(tmp_path: Path) -> None:
    path = tmp_path / "model.json"
    write_file(path, b"old")
    path.chmod(0o640)
    write_file(path, b"new")
    assert path.read_bytes() == b"new"
    assert path.stat().st_mode & 0o777 == 0o640
    assert [item.name for item in tmp_path.iterdir()] == ["model.json"]


def test_an_error_half_way_leaves_the_old_file_and_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "model.json"
    write_file(path, b"old")

    def half() -> None:
        with whole_file(path) as stream:
            stream.write(b"half")
            raise ValueError("the program fails here")

    with pytest.raises(ValueError, match="fails here"):
        half()
    assert path.read_bytes() == b"old"
    assert [item.name for item in tmp_path.iterdir()] == ["model.json"]


def test_a_killed_program_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "model.json"
    write_file(path, b"old")
    program = (
        "import os, signal, sys\nfrom pathlib import Path\nfrom lastbolt.edge.safe_files import whole_file\n"
        "with whole_file(Path(sys.argv[1])) as stream:\n"
        "    stream.write(b'half' * 100000); stream.flush(); os.kill(os.getpid(), signal.SIGKILL)\n"
    )
    ended = subprocess.run([sys.executable, "-c", program, str(path)], check=False)
    assert ended.returncode == -signal.SIGKILL
    assert path.read_bytes() == b"old"


def test_a_full_disk_is_a_problem_and_the_old_file_stays(tmp_path: Path) -> None:
    path = tmp_path / "model.json"
    write_file(path, b"old")
    program = (
        "import resource, signal, sys\nfrom pathlib import Path\n"
        "from lastbolt.edge.safe_files import write_file\nfrom lastbolt.words.problem import Refusal\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))\n"
        "try:\n    write_file(Path(sys.argv[1]), b'x' * 5000)\n"
        "except Refusal as refused:\n    print(refused.problems[0].code)\n"
    )
    command = [sys.executable, "-c", program, str(path)]
    ended = subprocess.run(command, capture_output=True, text=True, check=True)
    assert ended.stdout.strip() == "LB-F20"
    assert path.read_bytes() == b"old"
    assert [item.name for item in tmp_path.iterdir()] == ["model.json"]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    real = tmp_path / "real.json"
    write_file(real, b"old")
    link = tmp_path / "link.json"
    link.symlink_to(real)
    write_file(link, b"new")
    assert link.is_symlink()
    assert real.read_bytes() == b"new"


def test_a_folder_cannot_be_written_over(tmp_path: Path) -> None:
    with pytest.raises(Refusal) as caught:
        write_file(tmp_path, b"x")
    assert caught.value.problems[0].code == "LB-F20"


def test_a_folder_is_made_with_those_above_it_and_not_in_a_files_place(tmp_path: Path) -> None:
    make_folder(tmp_path / "a" / "b")
    make_folder(tmp_path / "a" / "b")
    assert (tmp_path / "a" / "b").is_dir()
    write_file(tmp_path / "c", b"x")
    with pytest.raises(Refusal) as caught:
        make_folder(tmp_path / "c" / "d")
    assert caught.value.problems[0].code == "LB-D06"


def test_digest(tmp_path: Path) -> None:
    """FIPS 180-2, appendix B.1: SHA-256 of "abc"."""
    path = tmp_path / "abc"
    path.write_bytes(b"abc")
    assert sha256_of(path) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
