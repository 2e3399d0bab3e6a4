"""The drawing: valid SVG, every place on it, labels escaped and apart, states told without colour."""

import re
import xml.etree.ElementTree as ET

from lastbolt.drawing.joint import LABEL_H, joint_svg, mark_svg
from lastbolt.words.picture import MARK_WORDS, JointPicture, Spot

SVG = "{http://www.w3.org/2000/svg}"


def labels_of(svg: str) -> list[tuple[str, float, float]]:
    root = ET.fromstring(svg)
    texts = [t for t in root.iter(f"{SVG}text") if "font-size" not in (t.get("style") or "")]
    return [(t.text or "", float(t.get("x", "0")), float(t.get("y", "0"))) for t in texts]


def crowd(count: int) -> JointPicture:
    return JointPicture(
        ((0, 0), (100, 0), (100, 60), (0, 60)),
        tuple(Spot(str(i + 1), 50 + 4 * (i % 4), 30 + 4 * (i // 4), "out") for i in range(count)),
    )


def test_every_place_has_its_number_once() -> None:
    svg = joint_svg(crowd(16))
    assert sorted(int(text) for text, _, _ in labels_of(svg)) == list(range(1, 17))


def test_labels_do_not_lie_on_each_other() -> None:
    spots = labels_of(joint_svg(crowd(12)))
    for i, (_, x, y) in enumerate(spots):
        for _, ox, oy in spots[i + 1 :]:
            assert (x - ox) ** 2 + (y - oy) ** 2 > (LABEL_H * 0.7) ** 2


def test_words_of_a_source_are_only_text() -> None:
    svg = joint_svg(JointPicture(spots=(Spot('<script>&"', 0, 0, "in"),)))
    assert [text for text, _, _ in labels_of(svg)] == ['<script>&"']


def test_marks_differ_without_colour() -> None:
    colourless = {re.sub(r"#[0-9a-f]{6}", "", mark_svg(mark)) for mark in MARK_WORDS}
    assert len(colourless) == len(MARK_WORDS)


def test_behind_is_dashed() -> None:
    assert 'class="m d"' in mark_svg("out", behind=True)
    assert 'class="m d"' not in mark_svg("out")


def test_no_places_says_so() -> None:
    assert "No places on the map yet." in joint_svg(JointPicture())
