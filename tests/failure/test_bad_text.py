"""Texts that nobody should trust: no hang, no crash, nothing fetched; a clear problem for each."""

import contextlib
import random
import time
from pathlib import Path

import pytest

from lastbolt.cli.read import read_files
from lastbolt.edge.written_in import MOST_BYTES
from lastbolt.reading.text_html import read_html
from lastbolt.reading.text_markdown import read_markdown
from lastbolt.words.problem import Refusal

MANY = 20_000
ENDLESS = {
    "tags": "<a" * MANY, "remarks": "<!--" * MANY, "declarations": "<![CDATA[" * MANY, "ends": "</" * MANY,
    "quotes": "<a b='" * MANY, "script": "<script>" + "</scrip" * MANY, "nested": "<div>" * MANY,
    "bold": "<b>x" * MANY, "tables": "<table><tr><td>" * MANY, "lists": "<ol><li>x" * MANY,
    "attributes": "<a " + "x='y' " * MANY + ">", "spaces": " " * 5 * MANY + "x", "signs": "# a" + " #" * MANY,
    "stars": "**a" * MANY, "brackets": "[" * MANY, "links": "[a](" * MANY, "ticks": "` `` " * MANY,
    "quoted": ">" * MANY, "pipes": "|a" * MANY + "\n" + "|-" * MANY, "marks": "- " * MANY,
    "levels": "".join(" " * n + "- a\n" for n in range(1000)),
}  # fmt: skip


@pytest.mark.parametrize("name", ENDLESS)
def test_time_grows_with_the_text(name: str) -> None:
    for reader in (read_html, read_markdown):
        begun = time.process_time()
        reader(ENDLESS[name])
        assert time.process_time() - begun < 8


@pytest.mark.parametrize("sort", ["html", "md", "txt"])
def test_damaged_texts_are_read_or_refused(sort: str, tmp_path: Path) -> None:
    rng = random.Random(20)
    whole = (
        "<h1>A</h1><ol><li>Remove the <b>4</b> screws (see <a href='#b'>b</a>).</ol>\n# A\n\n1. Remove it.\n"
    )
    whole += "| a | b |\n|--|--|\n| 1 | 2 |\n"
    for number in range(60):
        raw = bytearray(whole.encode() * 3)
        for _ in range(rng.randrange(1, 20)):
            raw[rng.randrange(len(raw))] = rng.randrange(256)
        path = tmp_path / f"{number}.{sort}"
        path.write_bytes(bytes(raw[: rng.randrange(1, len(raw))]))
        with contextlib.suppress(Refusal):
            read_files([path])


@pytest.mark.parametrize(
    ("name", "content", "code"),
    [
        ("a.html", b"<html><script>x</script></html>", "LB-F45"),
        ("a.md", b"   \n\n", "LB-F45"),
        ("a.md", b"\x01\x02\xff\x05" * 50, "LB-F33"),
        ("a.html", b"", "LB-F04"),
        ("a.md", b"x" * (MOST_BYTES + 1), "LB-F44"),
    ],
)
def test_what_cannot_be_read_is_refused_with_one_problem(
    name: str, content: bytes, code: str, tmp_path: Path
) -> None:
    (tmp_path / name).write_bytes(content)
    with pytest.raises(Refusal) as refused:
        read_files([tmp_path / name])
    assert [problem.code for problem in refused.value.problems] == [code]


def test_pictures_are_told_and_not_opened(tmp_path: Path) -> None:
    text = '# A\n\n![x](http://a.invalid/b.png) <img src="../../etc/secret">\n\n1. Remove the cover.\n'
    (tmp_path / "a.md").write_text(text)
    told = [p for p in read_files([tmp_path / "a.md"]).machine.problems if p.code == "LB-F46"]
    assert ["2 pictures" in problem.what for problem in told] == [True]
