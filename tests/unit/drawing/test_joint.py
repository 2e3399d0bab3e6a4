"""The drawing: valid SVG, every place on it, labels escaped and apart, states told without colour."""

import itertools
import re
import xml.etree.ElementTree as ET

from lastbolt.drawing.joint import LABEL_H, joint_svg
from lastbolt.drawing.marks import RADIUS, mark_svg
from lastbolt.words.picture import MARK_WORDS, SEEN_WORDS, JointPicture, Mark, Seen, Spot

SVG = "{http://www.w3.org/2000/svg}"


def labels_of(svg: str) -> list[tuple[str, float, float, float]]:
    """Each number with its place and its size."""
    found = []
    for group in ET.fromstring(svg).iter(f"{SVG}g"):
        text = group.find(f"{SVG}text")
        if text is not None and text.get("class") != "q":
            x, y, size = map(float, re.findall(r"[\d.]+", group.get("transform") or ""))
            found.append((text.text or "", x, y, size))
    return found


def crowd(count: int) -> JointPicture:
    return JointPicture(
        ((0, 0), (100, 0), (100, 60), (0, 60)),
        tuple(Spot(str(i + 1), 50 + 4 * (i % 4), 30 + 4 * (i // 4), "out") for i in range(count)),
    )


def test_every_place_has_its_number_once() -> None:
    svg = joint_svg(crowd(16))
    assert sorted(int(text) for text, *_ in labels_of(svg)) == list(range(1, 17))


def test_labels_do_not_lie_on_each_other() -> None:
    spots = labels_of(joint_svg(crowd(12)))
    for i, (_, x, y, size) in enumerate(spots):
        for _, ox, oy, _ in spots[i + 1 :]:
            assert (x - ox) ** 2 + (y - oy) ** 2 > (LABEL_H * size * 0.7) ** 2


def test_words_of_a_source_are_only_text() -> None:
    svg = joint_svg(JointPicture(spots=(Spot('<script>&"', 0, 0, "in"),)))
    assert [text for text, *_ in labels_of(svg)] == ['<script>&"']


def drawn(mark: Mark, seen: Seen = "", *, for_years: bool = False, look: bool = False) -> str:
    """The mark without its colours."""
    svg = mark_svg(Spot("", 0, 0, mark, look=look, seen=seen, for_years=for_years))
    return re.sub(r"#[0-9a-f]{6}", "", svg)


def test_marks_differ_without_colour() -> None:
    assert len({drawn(mark) for mark in MARK_WORDS}) == len(MARK_WORDS)


def test_who_has_looked_is_told_without_colour() -> None:
    for mark in ("out", "nothing", "solid dowel", "hollow dowel"):
        kinds = {drawn(mark, seen) for seen in SEEN_WORDS}
        assert len(kinds) == len(SEEN_WORDS), mark
    assert len({drawn("out", seen, for_years=True) for seen in SEEN_WORDS}) == len(SEEN_WORDS)


def test_what_nobody_has_looked_at_is_never_drawn_as_out() -> None:
    unknown = drawn("not seen", "nobody")
    for mark in ("out", "nothing", "solid dowel", "hollow dowel"):
        assert drawn(mark, "nobody") == unknown
    assert not re.search(r'class="m', unknown)


def test_nothing_safe_is_crossed_or_slashed() -> None:
    """Every stroke that is added for somebody who looked is level and stands below the mark."""
    for seen in ("one", "two"):
        strokes = re.search(r'class="s" d="([^"]+)"', drawn("out", seen))
        assert strokes
        assert re.fullmatch(r"(M-?[\d.]+ [\d.]+H-?[\d.]+)+", strokes[1])
        assert min(float(y) for y in re.findall(r"M\S+ ([\d.]+)", strokes[1])) > RADIUS


def test_empty_for_years_is_no_hole_just_emptied() -> None:
    assert drawn("out", "one", for_years=True) != drawn("out", "one")


def test_a_fastener_that_is_in_looks_the_same_whoever_saw_it() -> None:
    assert drawn("in", "one") == drawn("in", "two") == drawn("in")


def test_look_there_next_is_a_ring_around_the_mark() -> None:
    assert 'class="r"' in drawn("out", look=True)
    assert 'class="r"' not in drawn("out")


def test_the_number_of_a_place_not_accounted_for_is_in_a_filled_box() -> None:
    svg = joint_svg(JointPicture(spots=(Spot("7", 0, 0, "out", open=True), Spot("8", 9, 0, "out"))))
    assert re.findall(r'<text class="(t[^"]*)"[^>]*>(.)', svg) == [("t ta", "7"), ("t", "8")]


def test_neighbours_do_not_lie_on_each_other() -> None:
    svg = joint_svg(JointPicture(spots=tuple(Spot(str(i), 7 * i, 0, "out") for i in range(30))))
    found = re.findall(r"translate\(([\d.]+) [\d.]+\) scale\(([\d.]+)\)\"><circle", svg)
    assert len(found) == 30
    gap = min(abs(float(a[0]) - float(b[0])) for a, b in itertools.pairwise(found))
    assert gap >= 2 * RADIUS * float(found[0][1])


def test_behind_is_dashed() -> None:
    assert 'class="m d"' in mark_svg(Spot("", 0, 0, "out", behind=True))
    assert 'class="m d"' not in mark_svg(Spot("", 0, 0, "out"))


def test_no_places_says_so() -> None:
    assert "No places on the map yet." in joint_svg(JointPicture())
