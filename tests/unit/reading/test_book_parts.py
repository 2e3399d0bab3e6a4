"""Covers, contents, "Page 6 of 21", steps three levels deep, lists that end where work begins."""

from lastbolt.reading.contents import contents_pages
from lastbolt.reading.covers import cover_pages
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.marks import Mark, Marks, mark_of
from lastbolt.reading.piece import At
from lastbolt.reading.pieces import pieces_of
from lastbolt.reading.running import PageText, running_of
from lastbolt.reading.schema import learn_schema
from lastbolt.reading.step_paths import StepPaths
from lastbolt.reading.step_runs import heads_in

ENGLISH = lexicon()


def line(text: str, top: float = 0.1, *, left: float = 0.1, size: float = 9.0, bold: bool = False) -> Line:
    lead = len(text) if bold else 0
    return Line(text, left, top, left + 0.008 * len(text), top + 0.012, size, bold, lead, len(text.split()))


BODY = [line("2.1 Cover", bold=True), line("1. Remove the three bolts.", 0.2), line("2. Lift it off.", 0.3)]


def test_a_first_page_with_a_title_and_little_else_is_a_cover():
    cover = [line("Mowell 30 pump", size=30, bold=True), line("Repair manual"), line("Rev. D 8-87", 0.9)]
    assert cover_pages([(1, cover), (2, BODY)], ENGLISH) == {1}
    assert cover_pages([(1, BODY), (2, BODY)], ENGLISH) == frozenset()
    assert cover_pages([(1, cover)], ENGLISH) == frozenset()


def test_lines_that_all_come_again_louder_are_contents_whatever_stands_above_them():
    names = ("Lid", "Spring", "Valve", "Rotor", "Fan wheel", "Belt guard", "Motor", "Frame")
    listed = [line("List of jobs", bold=True)] + [line(name, 0.1 + 0.02 * i) for i, name in enumerate(names)]
    titles = [line(name, 0.1 + 0.02 * i, bold=True) for i, name in enumerate(names)]
    assert contents_pages([(1, listed), (2, titles)], ENGLISH) == {1}
    assert contents_pages([(1, listed), (2, listed)], ENGLISH) == frozenset()


def test_a_page_number_with_how_many_there_are():
    pages = [
        PageText(n, (line("Pump", 0.03), line(f"Words {'abcdef'[n]}", 0.5), line(f"Page {n + 2} of 9", 0.95)))
        for n in range(1, 6)
    ]
    assert running_of(pages).printed == {n: str(n + 2) for n in range(1, 6)}


NEST = (("a", 0.1), ("1", 0.14), ("a", 0.18), ("b", 0.18), ("2", 0.14), ("b", 0.1), ("c", 0.1))


def test_letters_under_figures_under_letters():
    paths, marks = StepPaths(), Marks()
    kinds = [Mark("(num)" if value.isdigit() else "(alpha)", value) for value, _ in NEST]
    found = [paths.of(mark, left) for mark, (_, left) in zip(kinds, NEST, strict=True)]
    assert found == ["a", "a1", "a1a", "a1b", "a2", "b", "c"]
    assert all(
        marks.accepts(mark, left, "Lift it", open_text=False)
        for mark, (_, left) in zip(kinds, NEST, strict=True)
    )


def test_a_run_that_starts_again_further_down_is_no_deeper_one():
    paths = StepPaths()
    assert [paths.of(Mark("num", one), 0.1) for one in ("1", "2", "1", "2")] == ["1", "2", "1", "2"]


def test_a_letter_that_counts_is_no_letter_before_a_figure_that_counts():
    shapes = {head.shape for text in ("A Remove it", "A1 Remove it") for head in heads_in(text, ENGLISH)}
    assert len(shapes) == 2


def test_a_list_of_tools_ends_where_a_sentence_orders_something():
    lines = [
        line("2.1 Cover", 0.10, bold=True), line("Tools: hook wrench 60-1", 0.12),
        line("Install in reverse order of removal.", 0.133), line("1. Fit the ring.", 0.16),
    ]  # fmt: skip
    schema = learn_schema(lines, ENGLISH)
    kinds = [(piece.kind, piece.text) for piece in pieces_of(iter([(1, lines)]), schema, ENGLISH)]
    assert ("label", "hook wrench 60-1") in kinds
    assert ("text", "Install in reverse order of removal.") in kinds
    assert mark_of("1. Fit the ring.", ENGLISH) is not None
    assert At(1, lines[0]).line is lines[0]
