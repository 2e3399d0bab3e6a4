"""Running heads and page numbers learned from repetition."""

import pytest

from lastbolt.reading.lines import Line
from lastbolt.reading.running import PageText, running_of


def line(text: str, top: float, left: float = 0.1) -> Line:
    return Line(text, left, top, left + 0.3, top + 0.012, 9.0, False, 0, len(text.split()))


def _number(scheme: str, n: int) -> str:
    return scheme.format(n=n, before=n - 4, chapter=1 + n // 5, page=1 + n % 5)


def pages(count: int, number: str) -> list[PageText]:
    """Pages with a head, two lines of their own, and a numbered foot."""
    return [
        PageText(
            n,
            (
                line("Pump manual", 0.04),
                line(f"Heading of its own {'abcdefghijklmnop'[n]}", 0.09),
                line(f"Words that stand here only, {'qrstuvwxyzabcdef'[n]}", 0.5),
                line("Edition 3\t" + _number(number, n), 0.95),
            ),
            words=20,
        )
        for n in range(1, count + 1)
    ]


def test_head_and_foot_run_and_the_rest_does_not():
    running = running_of(pages(10, "{n}"))
    assert all(running.lines[n] == frozenset({0, 3}) for n in range(1, 11))


@pytest.mark.parametrize(
    ("scheme", "pdf_page", "printed"), [("{n}", 7, "7"), ("{before}", 7, "3"), ("{chapter}-{page}", 7, "2-3")]
)
def test_printed_number(scheme, pdf_page, printed):
    running = running_of(pages(12, scheme))
    assert running.printed[pdf_page] == printed
    assert pdf_page in running.by_printed[printed]


def test_an_edition_that_never_changes_is_no_page_number():
    fixed = [
        PageText(n, (line(f"Text {'abcdefgh'[n]}", 0.3), line(f"Form 12-3\t{n + 2}", 0.95)))
        for n in range(1, 8)
    ]
    assert running_of(fixed).printed[4] == "6"


def test_a_set_up_block_that_repeats_is_not_a_head():
    repeated = [
        PageText(
            n,
            (
                line("Pump manual", 0.04),
                line(f"{n}.1 Task {'abcdefgh'[n]}", 0.08),
                line("Tools\tsocket", 0.1),
                line(f"{n}", 0.95),
            ),
        )
        for n in range(1, 8)
    ]
    running = running_of(repeated)
    assert all(2 not in running.lines[n] for n in range(1, 8))
