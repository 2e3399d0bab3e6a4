"""Typed lines from a file or another program: plain UTF-8 text, or refused with what to do."""

from codecs import BOM_UTF16_BE, BOM_UTF16_LE
from pathlib import Path

from lastbolt.edge.json_text import bounded
from lastbolt.edge.plain_text import plain
from lastbolt.words.problem import Problem, Refusal

MOST_BYTES = 1 << 20
MOST_LETTERS = 1_000
"""Of one line: a longer one is a file without ends of lines, or a key that stuck."""
MOST_LINES = 1_000
"""That say something: of the largest joint some hundreds are typed, and thousands take minutes."""
PLAIN = "Give a plain text file."


def typed_file(path: Path) -> str:
    """The lines of the file.

    Raises:
        Refusal: there is no such file, or it is not plain text.
    """
    try:
        return typed_text(bounded(path, MOST_BYTES), str(path))
    except OSError as error:
        what = f"Cannot read the typed lines: {error.strerror or error}."
        missing = isinstance(error, FileNotFoundError)
        do = f"Check the name; you are in {Path.cwd()}." if missing else PLAIN
        raise Refusal(Problem("LB-D08", what, str(path), do, "stop")) from None


def typed_text(raw: bytes | None, where: str) -> str:
    """The bytes as text, without the byte order mark that some editors put first.

    Raises:
        Refusal: they are not UTF-8, or (None for the first) more or longer than anybody types.
    """
    if raw is None or len(raw) > MOST_BYTES:
        what = f"The typed lines are more than {MOST_BYTES >> 20} MB, which nobody types of one joint."
        raise Refusal(Problem("LB-D18", what, where, PLAIN, "stop"))
    if raw.startswith((BOM_UTF16_BE, BOM_UTF16_LE)):
        what, do = "The typed lines are UTF-16 text.", "Save them again as UTF-8."
        raise Refusal(Problem("LB-D08", what, where, do, "stop"))
    try:
        text = plain(raw.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        what = "Cannot read the typed lines: not plain text in UTF-8."
        raise Refusal(Problem("LB-D08", what, f"{where}, line {line}", PLAIN, "stop")) from None
    _check_lines(text, where)
    return text


def _check_lines(text: str, where: str) -> None:
    lines = text.splitlines()
    long = next((number for number, line in enumerate(lines, 1) if len(line) > MOST_LETTERS), None)
    if long is not None:
        what = f"A typed line has more than {MOST_LETTERS:,} letters."
        do = "Make it short: one statement a line."
        raise Refusal(Problem("LB-D18", what, f"{where}, line {long}", do, "stop"))
    if sum(1 for line in lines if line.strip()) > MOST_LINES:
        what = f"There are more than {MOST_LINES:,} typed lines, which nobody types of one joint."
        do = "Give the lines of one joint only, each once."
        raise Refusal(Problem("LB-D18", what, where, do, "stop"))
