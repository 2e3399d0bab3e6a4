"""A drawing together with the named points that callouts may point at."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from demo.drawing import Drawing, Point

Spots = dict[str, tuple[Point, ...]]
"""Name -> where the callout number stands, then what it points at (one point or more)."""


@dataclass(frozen=True)
class Scene:
    """A drawing without callouts, and its named points."""

    drawing: Drawing
    spots: Spots


Maker = Callable[[float], Scene]


def called_out(make: Maker, scale: float, names: tuple[tuple[str, str], ...]) -> Drawing:
    """The drawing at a scale with a callout for each (number, name of a spot)."""
    scene = make(scale)
    for mark, name in names:
        label, *targets = scene.spots[name]
        scene.drawing.callout(mark, label, *targets)
    return scene.drawing
