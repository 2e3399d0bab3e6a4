"""What the readings of one size tell besides what they decide: taper, ovality, from where to where."""

from collections.abc import Sequence

from lastbolt.measuring.dimensions import Dimension
from lastbolt.measuring.shapes import BoreReadings
from lastbolt.words.readings import Spot


def shapes_of(spots: Sequence[Spot], singles: Sequence[float], kind: Dimension, unit: str) -> tuple[str, ...]:
    """Of a bore or journal at heights and axes its taper and ovality; else the range of the readings."""
    bore = bore_of(spots) if kind.warm else None
    if bore is not None:
        return (
            f"taper {bore.taper:.4g} {unit}",
            f"ovality {bore.ovality:.4g} {unit}",
            f"mean {bore.mean:.6g} {unit}",
        )
    if len(singles) < 2:
        return ()
    said = "places" if kind.by == "worst" else "readings"
    values, many = (
        ([spot.value for spot in spots], len(spots)) if said == "places" else (singles, len(singles))
    )
    if many < 2:
        return ()
    return (f"{min(values):.6g} to {max(values):.6g} {unit} over {many} {said}",)


def bore_of(spots: Sequence[Spot]) -> BoreReadings | None:
    """Heights with the same number of axes each, as they are typed: "top 1", "top 2", "middle 1"."""
    rows: dict[str, list[float]] = {}
    for spot in spots:
        rows.setdefault(spot.at.rpartition(" ")[0], []).append(spot.value)
    if "" in rows or len({len(row) for row in rows.values()}) != 1 or len(spots) == len(rows):
        return None
    return BoreReadings(tuple(tuple(row) for row in rows.values()))
