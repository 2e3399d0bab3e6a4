"""What the warmth of part and tool does to a reading, and what to ask while nobody has said it."""

from collections.abc import Sequence

from msgspec import Struct

from lastbolt.measuring.expansion import REFERENCE_C, coefficient, coefficient_range, growth
from lastbolt.measuring.takes import Take
from lastbolt.measuring.uncertainty import Part, half_width
from lastbolt.measuring.units import same_kind, told_in

TOOL_METAL = "steel"
COMMON = ("grey iron", "aluminium")
"""From the metal of engines that grows least to the one that grows most."""
ASKED_K = 10.0
_THERMOMETER_K = 1.0
_SHOWN_MM = 0.0005


class Warmth(Struct, frozen=True):
    """How warm it was. `said`: somebody told it. `material` "": not known, and nothing is corrected."""

    said: bool = False
    part_C: float = REFERENCE_C
    tool_C: float = REFERENCE_C
    material: str = ""
    named: str = ""
    unit: str = "mm"

    def at_20_C(self, value: float) -> float:
        """The size at 20 degrees, where the metal is known."""
        return value * self._tool_grown() / (1 + self._alpha() * (self.part_C - REFERENCE_C))

    def parts(self, value: float) -> Sequence[Part]:
        """What is uncertain of it: the thermometer, and how much this very alloy grows."""
        off = self.part_C - REFERENCE_C
        size = abs(value)
        if not self.said or abs(off) < 1e-9:
            return ()
        if not self.material:
            most = coefficient_range(COMMON[1]) or (0.0, 0.0)
            part = half_width(growth(size, most[1], abs(off)))
            return (Part("not known what it is made of", part.value, "B", None, part.source),)
        low, high = coefficient_range(self.material) or (0.0, 0.0)
        spread = half_width(size * (high - low) / 2 * abs(off))
        degree = half_width(size * self._alpha() * _THERMOMETER_K)
        return (
            Part(f"alloys of {self.material}", spread.value, "B", None, spread.source),
            Part(f"temperature within {_THERMOMETER_K:g} K", degree.value, "B", None, degree.source),
        )

    def told(self, value: float) -> str:
        """What was done about it, in words."""
        off = self.part_C - REFERENCE_C
        if not self.said or abs(off) < 1e-9:
            return ""
        if not self.material:
            what = (
                f'"{self.named}" is no metal that is known here'
                if self.named
                else "what it is made of is not said"
            )
            low, high = (growth(abs(value), _middle(name), abs(off)) for name in COMMON)
            way = "large" if off > 0 else "small"
            return (
                f"At {self.part_C:g} °C, and {what}: not corrected. It reads {self._length(low)} "
                f"({COMMON[0]}) to {self._length(high)} {self.unit} ({COMMON[1]}) too {way}."
            )
        taken = value * (1 + self._alpha() * off) / self._tool_grown() - value
        return (
            f"At {self.part_C:g} °C {self.material} reads {self._length(abs(taken))} {self.unit} too "
            f"{'large' if taken > 0 else 'small'}: taken to 20 °C."
        )

    def asked(self, value: float) -> str:
        """What to ask, where nobody said how warm it was and it matters."""
        if self.said or not same_kind(self.unit, "mm"):
            return ""
        low, high = (growth(abs(value), _middle(name), ASKED_K) for name in COMMON)
        if told_in(high, self.unit, "mm") < _SHOWN_MM:
            return ""
        return (
            f"At room temperature? {ASKED_K:g} K warmer reads {self._length(low)} ({COMMON[0]}) to "
            f"{self._length(high)} {self.unit} ({COMMON[1]}) larger."
        )

    def _length(self, value: float) -> str:
        """To a micrometre, or a ten-thousandth of an inch."""
        return f"{value:.{4 if self.unit == 'in' else 3}f}"

    def _alpha(self) -> float:
        return _middle(self.material) if self.material else 0.0

    def _tool_grown(self) -> float:
        """A warm tool reads small: its own steps have grown."""
        return 1 + _middle(TOOL_METAL) * (self.tool_C - REFERENCE_C) if self.material else 1.0


def _middle(material: str) -> float:
    known = coefficient(material)
    return known[0] if known else 0.0


def warmth_of(takes: Sequence[Take], unit: str) -> Warmth:
    """What was said with the readings; of several the warmest part, so that nothing is taken for cold."""
    said = [take.event for take in takes if take.event.temperature_C is not None]
    named = next((take.event.material for take in takes if take.event.material), "")
    material = named if coefficient(named) else ""
    if not said:
        return Warmth(material=material, named=named, unit=unit)
    event = max(said, key=lambda one: abs((one.temperature_C or REFERENCE_C) - REFERENCE_C))
    tool = event.tool_temperature_C
    return Warmth(
        True, event.temperature_C if event.temperature_C is not None else REFERENCE_C,
        REFERENCE_C if tool is None else tool, material, named, unit,
    )  # fmt: skip
