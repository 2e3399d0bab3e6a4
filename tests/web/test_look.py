"""The page can be read: contrast of every pair of colours that meet, in both schemes.

Source: WCAG 2.2, success criterion 1.4.6 (7:1) with its definition of relative luminance.
"""

import re
from importlib.resources import files

import pytest

CSS = files("lastbolt.edge.web").joinpath("static", "look.css").read_text(encoding="utf-8")
PAIRS = (
    ("ink", "paper"), ("soft", "paper"), ("accent", "paper"), ("on-accent", "accent"),
    ("ink", "wash"), ("soft", "wash"), ("accent", "wash"),
)  # fmt: skip


def schemes() -> list[dict[str, str]]:
    """The colours of the light and of the dark scheme."""
    blocks = re.findall(r":root \{(.*?)\}", CSS, re.S)
    return [dict(re.findall(r"--([\w-]+): (#[0-9a-f]{3,6})", block)) for block in blocks]


def luminance(colour: str) -> float:
    digits = colour.lstrip("#")
    digits = "".join(2 * one for one in digits) if len(digits) == 3 else digits
    parts = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    linear = [one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts]
    return sum(share * one for share, one in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_black_on_white_is_21_to_1() -> None:
    assert contrast("#000", "#ffffff") == pytest.approx(21.0)


@pytest.mark.parametrize("pair", PAIRS)
def test_contrast_is_at_least_7_to_1(pair: tuple[str, str]) -> None:
    assert len(schemes()) == 2
    for colours in schemes():
        assert contrast(colours[pair[0]], colours[pair[1]]) >= 7.0, (pair, colours)


def test_frames_on_the_white_sheet() -> None:
    assert contrast("#7a2a0a", "#ffffff") >= 7.0
    assert contrast("#1b1a17", "#ffffff") >= 7.0
