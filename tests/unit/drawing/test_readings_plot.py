"""Readings against their limits: what is drawn stands where the numbers say."""

import re

import pytest
from msgspec.structs import replace

from lastbolt.drawing.readings_plot import readings_svg
from lastbolt.words.measured import Span
from lastbolt.words.readings import READINGS_SCHEMA, Decided, Readings, Spot

ONE = Decided("Bore <a> & b", 72.03, "mm", says="beyond", number=3, uncertainty=0.002, k=2.0,
              standard=Span(71.988, 72.0, "mm"), service=Span(None, 72.02, "mm"),
              spots=(Spot("top 1", 72.01), Spot("top 2", 72.03)))  # fmt: skip


def drawn(*decided: Decided) -> str:
    return readings_svg(Readings(READINGS_SCHEMA, "g", "m", decided=decided))


def number(pattern: str, text: str) -> float:
    found = re.search(pattern, text)
    assert found
    return float(found[1])


def ring(text: str) -> float:
    return number(r'<circle cx="([\d.]+)"', text)


def heavy(text: str) -> float:
    return number(r'<line x1="([\d.]+)"[^>]*class="l"', text)


@pytest.mark.parametrize(("value", "beyond"), [(72.03, True), (72.01, False), (71.99, False)])
def test_the_ring_is_on_its_side_of_the_limit(value: float, beyond: bool) -> None:
    text = drawn(replace(ONE, value=value))
    assert (ring(text) > heavy(text)) is beyond


def test_the_bar_is_as_long_as_the_uncertainty_and_the_band_as_wide_as_the_standard() -> None:
    text = drawn(ONE)
    band = number(r'<rect x="[\d.]+" y="[\d.]+" width="([\d.]+)" height="26"', text)
    low = number(r'<path d="M([\d.]+) ', text)
    high = number(r"H([\d.]+)m0", text)
    # The band is 0.012 mm wide, the bar 2 x 2 x 0.002 = 0.008 mm long: drawn in that proportion.
    assert (high - low) / band == pytest.approx(0.008 / 0.012, rel=0.01)
    assert (low + high) / 2 == pytest.approx(ring(text), abs=0.1)


def test_words_of_sources_are_no_markup_and_every_size_has_its_row() -> None:
    text = drawn(ONE, replace(ONE, number=4, what="Other"), replace(ONE, number=0, says=""))
    assert "&lt;a&gt; &amp; b" in text.replace("</text>", " ").replace('<text x="20"', "")
    assert text.count("<circle") == 2
    assert text.count("BEYOND") == 2
    assert "Nothing is measured yet" in drawn()


def test_everything_stays_inside_the_drawing() -> None:
    extreme = replace(ONE, value=1e5, spots=(), uncertainty=None)
    for one in (
        ONE,
        extreme,
        replace(ONE, standard=None),
        replace(ONE, service=None),
        replace(ONE, value=72.0, standard=Span(72.0, 72.0, "mm")),
    ):
        places = [float(x) for x in re.findall(r'(?:cx|x1|x)="([\d.-]+)"', drawn(one))]
        assert all(0 <= x <= 1000 for x in places)
