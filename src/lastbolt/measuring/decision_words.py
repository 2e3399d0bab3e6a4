"""What a reading decides in words, its numbers to the figures that its uncertainty bears."""

from lastbolt.measuring.decide import Decision
from lastbolt.measuring.dimensions import dimension_of
from lastbolt.measuring.sheet import figures_printed
from lastbolt.words.readings import Decided, figures_of


def decision_words(made: Decided, found: Decision) -> str:
    """How far from which end, and what to do where the tool cannot tell."""
    ends = _ends(made)
    if found.says == "not decided" or not ends:
        return found.words
    to_wear = found.says == "worn, within limit" or not dimension_of(made.what).both
    if found.says in ("worn, within limit", "within") and made.service is not None and to_wear:
        # What counts of a good part is how much it may still wear.
        ends = [(one, way) for one, way in ends if one in (made.service.low, made.service.high)] or ends
    _, end = min(((made.value - one) * way, one) for one, way in ends)
    spread = made.k * made.uncertainty if made.uncertainty else 0.0
    figures = figures_of(spread, made.unit)
    side = "above" if made.value > end else "below"
    printed = f"{end:.{figures_printed(made.standard, made.service)}f}"
    off = f"{abs(made.value - end):.{figures}f}"
    near = f"{off} {made.unit} {side} {printed}" if float(off) else f"just at {printed}"
    match found.says:
        case "beyond":
            return f"Beyond the limit: {near}."
        case "too close for this tool":
            return (
                f"{near[:1].upper()}{near[1:]}, uncertain by {spread:.{figures}f}: measure again, or better."
            )
        case "worn, within limit":
            return f"Worn, and within the limit: {near}."
    return f"Within: {near}."


def _ends(made: Decided) -> list[tuple[float, int]]:
    """The ends that count, each with +1 where what is larger is good."""
    standard, service = made.standard, made.service
    low = service.low if service else None
    high = service.high if service else None
    single = standard is not None and standard.low == standard.high
    if standard is not None and not (single and service is not None):
        low = low if low is not None else standard.low or None
        high = high if high is not None else standard.high
    found = [(low, 1)] if low is not None else []
    return [*found, (high, -1)] if high is not None else found
