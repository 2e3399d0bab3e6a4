"""Measured sizes as printed, and their units against NIST SP 811 (2008), appendix B.8, and against pint."""

import pint
import pytest

from lastbolt.reading.limit_words import limit_words
from lastbolt.reading.measured_values import decimal_sign, values_in
from lastbolt.words.measured import Span
from lastbolt.words.measured_units import INTO, converted, span_of, spans_agree

# NIST SP 811 (2008), appendix B.8, "to convert from ... to ..., multiply by", in the units kept here (typed
# in from memory of the published table; the digits are those printed there).
NIST = {
    "in": 25.4, "mil": 2.54e-2, "µm": 1e-3, "lbf": 4.448222, "kgf": 9.80665, "psi": 6.894757,
    "kgf/cm²": 98.0665, "bar": 100.0, "mbar": 0.1, "oz": 28.34952, "gal (US)": 3785.412,
    "qt (US)": 946.3529, "pt (US)": 473.1765,
}  # fmt: skip
IN_PINT = {
    "mil": "thou", "µm": "micrometre", "lbf": "force_pound", "kgf": "force_kilogram", "in": "inch",
    "kgf/cm²": "force_kilogram / centimetre ** 2", "Ω": "ohm", "kΩ": "kiloohm", "oz": "ounce",
    "gal (US)": "gallon", "qt (US)": "quart", "pt (US)": "pint", "pt (UK)": "imperial_pint",
}  # fmt: skip


@pytest.mark.parametrize("unit", NIST)
def test_factor_is_the_published_one(unit: str) -> None:
    assert converted(1.0, unit)[0] == pytest.approx(NIST[unit], rel=5e-7)


@pytest.mark.parametrize("unit", [unit for unit in INTO if not unit.startswith("°")])
def test_factor_agrees_with_pint(unit: str) -> None:
    units = pint.UnitRegistry()
    into, factor = INTO[unit]
    wanted = units(IN_PINT.get(unit, unit)).to(IN_PINT.get(into, into)).magnitude
    assert factor == pytest.approx(wanted, rel=1e-7)


def test_fahrenheit() -> None:
    """NIST SP 811, appendix B.8: t/°C = (t/°F - 32)/1.8."""
    assert span_of(Span(32.0, 212.0, "°F")) == Span(0.0, 100.0, "°C")


@pytest.mark.parametrize("unit", ["kg", "lb", "pt", "qt", "gal"])
def test_what_may_be_two_units_stays_as_printed(unit: str) -> None:
    """A kilogram on a spring is a mass or a force, a pint is one of two countries."""
    assert converted(2.0, unit) == (2.0, unit)
    assert unit in limit_words().spellings.values()


@pytest.mark.parametrize(
    ("text", "low", "high", "unit"),
    [
        ("0.05-0.15 mm", 0.05, 0.15, "mm"),
        ("54.98 to 55.00 mm", 54.98, 55.0, "mm"),
        ("54,98…55,00 mm", 54.98, 55.0, "mm"),
        ("Ø 54.98/55.00", 54.98, 55.0, ""),
        ("20 ± 0.1 mm", 19.9, 20.1, "mm"),
        ("55 -0.010 -0.029", 54.971, 54.99, ""),
        ("55 +0.02/−0.01 mm", 54.99, 55.02, "mm"),
        ("20 0/-0.02", 19.98, 20.0, ""),
        ("20 +0.05 mm", 20.0, 20.05, "mm"),
        ("between 0.1 and 0.2 mm", 0.1, 0.2, "mm"),
        (".0012 in.", 0.0012, 0.0012, "in"),
        ('1 1/8"', 1.125, 1.125, "in"),
        ("0.002 in to 0.004 in", 0.002, 0.004, "in"),
        ("0,030 mm", 0.03, 0.03, "mm"),
        ("4 000 rpm", 4000.0, 4000.0, "rpm"),
        ("-5 °C", -5.0, -5.0, "°C"),
        ("-0.01 to 0.02 mm", -0.01, 0.02, "mm"),
        ("−0.01 to +0.02 mm", -0.01, 0.02, "mm"),
        ("-0.01–0.02", -0.01, 0.02, ""),
        ("-0.03 to -0.01 mm", -0.03, -0.01, "mm"),
        ("+0.01 to +0.03 mm", 0.01, 0.03, "mm"),
        ("-0,01…0,02 mm", -0.01, 0.02, "mm"),
        ("between -5 and 10 °C", -5.0, 10.0, "°C"),
        ("-5 ± 2 °C", -7.0, -3.0, "°C"),
        ("0 ± 0.1 mm", -0.1, 0.1, "mm"),
        ("-1/2 in", -0.5, -0.5, "in"),
        ("2.5 l of oil", 2.5, 2.5, "l"),
        ("0.5 in the bore", 0.5, 0.5, ""),
        ("2.5-3.5 kg/cm²", 2.5, 3.5, "kgf/cm²"),
    ],
)
def test_printed_values(text: str, low: float, high: float, unit: str) -> None:
    (value,) = values_in(text)
    assert value.span == Span(low, high, unit)


@pytest.mark.parametrize("text", ["25 N·m", "25 N m", "18 lb-ft", "0.8 kg-m", "B-12", "20 ⁺⁵ ₀ mm"])
def test_torques_and_names_are_no_sizes(text: str) -> None:
    assert values_in(text) == []


@pytest.mark.parametrize(
    "text", ["1,200 mm", "10/12 mm", "20-10 mm", "1/8 mm", "-0.01 to -0.03 mm", "5 ± 8 mm", "20 to -10 °C"]
)
def test_what_can_be_read_in_two_ways_is_not_read(text: str) -> None:
    (value,) = values_in(text)
    assert not value.understood
    assert value.doubt


def test_the_decimal_sign_of_the_table_decides() -> None:
    assert decimal_sign(["0,05", "1,200"]) == ","
    assert values_in("1,200 mm", ",")[0].span == Span(1.2, 1.2, "mm")
    assert values_in("1,200 mm", ".")[0].span == Span(1200.0, 1200.0, "mm")


def test_two_units_agree_within_their_rounding() -> None:
    """0.15 mm is 0.0059 in: 0.006 in is that rounded, 0.008 in is another value."""
    mm, near, far = Span(0.05, 0.15, "mm"), Span(0.002, 0.006, "in"), Span(0.002, 0.008, "in")
    assert spans_agree(mm, near, 0.005, 0.0005) == "yes"
    assert spans_agree(mm, far, 0.005, 0.0005) == "no"
    assert spans_agree(mm, Span(3.0, 3.0, "N"), 0.005, 0.5) == "unknown"
