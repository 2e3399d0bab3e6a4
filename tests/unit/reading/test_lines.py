"""Words into lines and columns, on small pages written as data."""

from lastbolt.reading.lines import Region, lines_of
from lastbolt.words.page import Drawn, PageLayout, Word

HEIGHT = 0.012


def words(left: float, top: float, text: str, *, bold: bool = False, size: float = 10.0) -> list[Word]:
    """The words of one line, each letter 0.008 of the page wide, spaces 0.004."""
    made = []
    for part in text.split(" "):
        right = left + 0.008 * len(part)
        made.append(Word(part, left, top, right, top + HEIGHT * size / 10, size, bold))
        left = right + 0.004
    return made


def page(*lines: list[Word], drawn: tuple[Drawn, ...] = ()) -> PageLayout:
    return PageLayout(1, 595.0, 842.0, tuple(word for line in lines for word in line), drawn)


def texts(layout: PageLayout, *regions: Region) -> list[str]:
    return [line.text for line in lines_of(layout, regions)]


def test_a_mark_stays_with_its_step():
    layout = page(
        words(0.1, 0.10, "1."), words(0.14, 0.10, "Remove the guard."), words(0.14, 0.12, "Keep it.")
    )
    assert texts(layout) == ["1.\tRemove the guard.", "Keep it."]


def test_two_columns_are_read_one_after_the_other():
    left = [words(0.1, 0.1 + 0.02 * i, f"left hand column with its line number {i}") for i in range(5)]
    right = [words(0.55, 0.1 + 0.02 * i, f"right hand column and its line number {i}") for i in range(5)]
    mixed = [line for pair in zip(left, right, strict=True) for line in pair]
    assert texts(page(*mixed)) == [f"left hand column with its line number {i}" for i in range(5)] + [
        f"right hand column and its line number {i}" for i in range(5)
    ]


def test_full_width_line_parts_the_columns():
    top = [
        words(0.1, 0.1, "left above and rather a long line"),
        words(0.55, 0.1, "right above and rather a long line"),
        words(0.1, 0.12, "left two of the upper half of it"),
        words(0.55, 0.12, "right two of the upper half of it"),
    ]
    across = words(0.1, 0.2, "one long heading that goes right across both of the columns of the page")
    below = [
        words(0.1, 0.3, "left below and rather a long line"),
        words(0.55, 0.3, "right below and rather a long line"),
        words(0.1, 0.32, "left last of the lower half of it"),
        words(0.55, 0.32, "right last of the lower half of it"),
    ]
    found = texts(page(*top, across, *below))
    assert found[:4] == [
        "left above and rather a long line",
        "left two of the upper half of it",
        "right above and rather a long line",
        "right two of the upper half of it",
    ]
    assert found[5:] == [
        "left below and rather a long line",
        "left last of the lower half of it",
        "right below and rather a long line",
        "right last of the lower half of it",
    ]


def test_labels_beside_their_lines_are_read_across():
    layout = page(
        words(0.1, 0.10, "Tools", bold=True),
        words(0.3, 0.10, "socket 10 mm, soft mallet and a tray"),
        words(0.1, 0.12, "Condition", bold=True),
        words(0.3, 0.12, "chain guard removed (1.2) and oil drained"),
        words(0.3, 0.14, "over night"),
    )
    assert texts(layout) == [
        "Tools\tsocket 10 mm, soft mallet and a tray",
        "Condition\tchain guard removed (1.2) and oil drained",
        "over night",
    ]


def test_picture_column_beside_steps():
    picture = Region("figure", (0.1, 0.1, 0.35, 0.3))
    layout = page(
        words(0.2, 0.2, "7"),
        words(0.4, 0.1, "1."),
        words(0.44, 0.1, "Remove the nut."),
        words(0.4, 0.2, "2."),
        words(0.44, 0.2, "Pull off the wheel."),
        words(0.1, 0.34, "4.3", bold=True, size=12),
        words(0.16, 0.34, "Fitting the wheel", bold=True, size=12),
        words(0.4, 0.28, "3."),
        words(0.44, 0.28, "Take out the key."),
    )
    assert texts(layout, picture) == [
        "7",
        "1.\tRemove the nut.",
        "2.\tPull off the wheel.",
        "3.\tTake out the key.",
        "4.3\tFitting the wheel",
    ]


def test_text_that_runs_into_a_figure_stays_text():
    picture = Region("figure", (0.1, 0.1, 0.425, 0.3))
    lines = [words(0.4, 0.1 + 0.02 * i, "The guard covers it") for i in range(4)]
    found = lines_of(page(*lines), (picture,))
    assert [line.text for line in found if not line.region] == ["The guard covers it"] * 4
    assert not [line for line in found if line.region]


def test_words_in_a_drawn_box_know_it():
    box = Drawn("box", 0.1, 0.1, 0.6, 0.2)
    inside, outside = lines_of(page(words(0.15, 0.15, "boxed"), words(0.15, 0.5, "free"), drawn=(box,)))
    assert inside.boxed
    assert not outside.boxed


def test_no_word_is_lost():
    region = Region("table", (0.1, 0.4, 0.9, 0.6))
    lines = [
        words(0.1 + 0.03 * (i % 5), 0.05 + 0.021 * i, f"row {i} of mixed text {'x' * (i % 7 + 1)}")
        for i in range(40)
    ]
    layout = page(*lines)
    found = lines_of(layout, (region,))
    assert sum(line.words for line in found) == len(layout.words)
