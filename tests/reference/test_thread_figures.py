"""Sizes, areas and strengths of threads against printed tables.

"Read" below means that the figures were read from a stored copy of a public page; "from memory" means that
nobody looked them up. Agreement with figures from memory shows two memories agree, not that either is true.
"""

from math import pi

import pytest

from lastbolt.threads.classes import classes_by_marks, proof_load_N, property_class, tensile_load_min_N
from lastbolt.threads.designation import Thread, thread_of
from lastbolt.threads.fittings import bearing_diameter_mm, clearance_hole_mm, wrench_mm
from lastbolt.threads.geometry import geometry, limits_of_size, stress_area_mm2

INCH = 25.4
LAST_PLACE_MM = 0.00051
"""Tables state three places."""
PRINTED_AREA = 0.005
"""Areas are printed with three figures."""
PRINTED_LOAD = 0.008
"""Loads are printed with three figures, of an area printed with three."""

ISO_724 = {
    "M3": (0.5, 2.675, 2.459, 2.387), "M4": (0.7, 3.545, 3.242, 3.141), "M5": (0.8, 4.480, 4.134, 4.019),
    "M6": (1.0, 5.350, 4.917, 4.773), "M8": (1.25, 7.188, 6.647, 6.466), "M10": (1.5, 9.026, 8.376, 8.160),
    "M12": (1.75, 10.863, 10.106, 9.853), "M16": (2.0, 14.701, 13.835, 13.546),
    "M20": (2.5, 18.376, 17.294, 16.933), "M24": (3.0, 22.051, 20.752, 20.319),
    "M8x1": (1.0, 7.350, 6.917, 6.773), "M10x1.25": (1.25, 9.188, 8.647, 8.466),
    "M12x1.5": (1.5, 11.026, 10.376, 10.160),
    "M18x2": (2.0, 16.701, 15.835, 15.546), "M20x1.5": (1.5, 19.026, 18.376, 18.160),
}  # fmt: skip
STRESS_AREAS_MM2 = {
    "M3": 5.03, "M4": 8.78, "M5": 14.2, "M6": 20.1, "M8": 36.6, "M10": 58.0, "M12": 84.3, "M14": 115,
    "M16": 157, "M20": 245, "M24": 353, "M8x1": 39.2, "M10x1.25": 61.2, "M12x1.5": 88.1, "M18x1.5": 216,
    "M18x2": 204,
    "M20x1.5": 272, "M22x2": 318,
}  # fmt: skip
UNIFIED_AREAS_IN2 = {
    "#4-40 UNC": 0.00604, "#10-24 UNC": 0.0175, "1/4-20 UNC": 0.0318, "5/16-18 UNC": 0.0524,
    "3/8-16 UNC": 0.0775, "1/2-13 UNC": 0.1419, "3/4-10 UNC": 0.334, "1-8 UNC": 0.606, "1-1/2-6 UNC": 1.405,
    "#10-32 UNF": 0.0200, "1/4-28 UNF": 0.0364, "3/8-24 UNF": 0.0878, "1/2-20 UNF": 0.1599, "1-12 UNF": 0.663,
}  # fmt: skip
UNF_BASIC_IN = {
    "#0-80 UNF": (0.0519, 0.0465), "#10-32 UNF": (0.1697, 0.1562), "1/4-28 UNF": (0.2268, 0.2113),
    "5/16-24 UNF": (0.2854, 0.2674), "3/8-24 UNF": (0.3479, 0.3299), "1/2-20 UNF": (0.4675, 0.4459),
    "3/4-16 UNF": (0.7094, 0.6823), "1-12 UNF": (0.9459, 0.9098), "1-1/4-12 UNF": (1.1959, 1.1598),
}  # fmt: skip
UNF_OUTSIDE_MINOR_IN = {
    "1/4-28 UNF": 0.2074,
    "3/8-24 UNF": 0.3254,
    "1/2-20 UNF": 0.4405,
    "5/8-18 UNF": 0.5589,
}
CLASSES = {
    ("4.6", 16): (400, 240, 225), ("4.8", 16): (420, 340, 310), ("5.6", 16): (500, 300, 280),
    ("5.8", 16): (520, 420, 380), ("6.8", 16): (600, 480, 440), ("8.8", 16): (800, 640, 580),
    ("8.8", 18): (830, 660, 600), ("9.8", 16): (900, 720, 650), ("10.9", 24): (1040, 940, 830),
    ("12.9", 24): (1220, 1100, 970),
}  # fmt: skip
PROOF_LOADS_N = {
    ("M4", "4.6"): 1980, ("M6", "8.8"): 11600, ("M8", "8.8"): 21200, ("M8", "10.9"): 30400,
    ("M10", "10.9"): 48100, ("M12", "8.8"): 48900, ("M12", "9.8"): 54800, ("M14", "4.8"): 35600,
    ("M18", "8.8"): 115000, ("M20", "8.8"): 147000, ("M8x1", "8.8"): 22700, ("M10x1.25", "10.9"): 50800,
    ("M14x1.5", "10.9"): 104000,
}  # fmt: skip
MINIMUM_LOADS_N = {
    ("M4", "4.6"): 3510, ("M4", "10.9"): 9130, ("M6", "5.8"): 10400, ("M6", "8.8"): 16100,
    ("M7", "4.6"): 11600, ("M8", "8.8"): 29200, ("M8", "10.9"): 38100, ("M12", "8.8"): 67400,
    ("M12", "9.8"): 75900,
    ("M20", "8.8"): 203000, ("M24", "5.8"): 184000, ("M24", "12.9"): 431000,
}  # fmt: skip
ISO_965 = {
    "M3": (2.980, 2.874, 2.655, 2.580, 2.775, 2.459, 2.599),
    "M5": (4.976, 4.826, 4.456, 4.361, 4.605, 4.134, 4.334),
    "M8": (7.972, 7.760, 7.160, 7.042, 7.348, 6.647, 6.912),
    "M10": (9.968, 9.732, 8.994, 8.862, 9.206, 8.376, 8.676),
    "M12": (11.966, 11.701, 10.829, 10.679, 11.063, 10.106, 10.441),
    "M20": (19.958, 19.623, 18.334, 18.164, 18.600, 17.294, 17.744),
    "M24": (23.952, 23.577, 22.003, 21.803, 22.316, 20.752, 21.252),
    "M12x1.25": (11.972, 11.760, 11.160, 11.028, 11.368, 10.647, 10.912),
    "M20x1.5": (19.968, 19.732, 18.994, 18.854, 19.216, 18.376, 18.676),
}
HEADS_AND_HOLES = {
    "M4": (7, 4.5, 5.19), "M6": (10, 6.6, 7.74), "M8": (13, 9.0, 10.32), "M10": (16, 11.0, 12.82),
    "M12": (18, 13.5, 15.06), "M14": (21, 15.5, 17.57), "M16": (24, 17.5, 19.99), "M20": (30, 22.0, 25.09),
    "M24": (36, 26.0, 29.80),
}  # fmt: skip
NO_THREADS = ("", "x", "M0", "M-8", "M9.3", "M8x1.1", "M16x1.25", "1/4-21 UNC", "8 mm")


def known(words: str) -> Thread:
    """The thread of a designation that must be understood."""
    thread = thread_of(words)
    assert thread is not None, words
    return thread


@pytest.mark.parametrize(("words", "printed"), ISO_724.items())
def test_metric_geometry(words: str, printed: tuple[float, ...]) -> None:
    """ISO 261 and ISO 724, d3 of DIN 13. Pitches read; diameters read for fine threads, from memory for
    coarse."""
    thread, (pitch, *diameters) = known(words), printed
    sizes = geometry(thread)
    assert thread.pitch_mm == pitch
    assert thread.series == ("fine" if "x" in words else "coarse")
    found = [sizes.pitch_diameter_mm, sizes.minor_internal_mm, sizes.minor_external_mm]
    assert found == pytest.approx(diameters, abs=LAST_PLACE_MM)


@pytest.mark.parametrize(("words", "area"), STRESS_AREAS_MM2.items())
def test_metric_stress_areas(words: str, area: float) -> None:
    """ISO 898-1:2013 tables 4 and 6: coarse read, fine from memory (the page read misprints fine areas)."""
    assert stress_area_mm2(known(words)) == pytest.approx(area, rel=PRINTED_AREA)


@pytest.mark.parametrize(("words", "area"), UNIFIED_AREAS_IN2.items())
def test_unified_stress_areas(words: str, area: float) -> None:
    """ANSI B1.1-1974 as compiled in Shigley, Mechanical Engineering Design, 9th ed., table 8-2 (read)."""
    assert stress_area_mm2(known(words)) / INCH**2 == pytest.approx(area, rel=PRINTED_AREA)


def test_a_misprinted_area_is_not_followed() -> None:
    """Shigley's table 8-2 has 0.00880 for #5-44; a table of ASME B1.1 (read) has 0.0083, and so has its
    formula."""
    by_hand = pi / 4 * (0.125 - 0.9743 / 44) ** 2
    assert stress_area_mm2(known("#5-44 UNF")) / INCH**2 == pytest.approx(by_hand, rel=0.001)
    assert by_hand == pytest.approx(0.0083, rel=PRINTED_AREA)


@pytest.mark.parametrize(("words", "printed"), UNF_BASIC_IN.items())
def test_fine_inch_geometry(words: str, printed: tuple[float, float]) -> None:
    """ASME B1.1, basic pitch and inside minor diameter of UNF threads as tabulated (read)."""
    sizes = geometry(known(words))
    found = [sizes.pitch_diameter_mm / INCH, sizes.minor_internal_mm / INCH]
    assert found == pytest.approx(printed, abs=0.000051)


@pytest.mark.parametrize(("words", "printed"), UNF_OUTSIDE_MINOR_IN.items())
def test_fine_inch_outside_minor_diameter(words: str, printed: float) -> None:
    """ASME B1.1, outside minor diameter of UNR threads in a table (read); by hand 1/4 - 1.19078/28 =
    0.2075."""
    assert geometry(known(words)).minor_external_mm / INCH == pytest.approx(printed, abs=0.0006)


@pytest.mark.parametrize(("which", "printed"), CLASSES.items())
def test_strengths_of_classes(which: tuple[str, float], printed: tuple[float, ...]) -> None:
    """EN ISO 898-1:2013 table 3 (read): least tensile strength and yield, proof stress; 8.8 changes above
    16 mm."""
    found = property_class(*which)
    assert found is not None
    assert (found.tensile_min_MPa, found.yield_min_MPa, found.proof_MPa) == printed


@pytest.mark.parametrize(("which", "load"), PROOF_LOADS_N.items())
def test_proof_loads(which: tuple[str, str], load: float) -> None:
    """EN ISO 898-1 table 5 (coarse) and table 7 (fine), read but for a few fine ones that are from memory."""
    assert proof_load_N(known(which[0]), which[1]) == pytest.approx(load, rel=PRINTED_LOAD)


@pytest.mark.parametrize(("which", "load"), MINIMUM_LOADS_N.items())
def test_minimum_tensile_loads(which: tuple[str, str], load: float) -> None:
    """EN ISO 898-1 table 4, read; the page misprints M4 10.9 as 91130, another page has 9130."""
    assert tensile_load_min_N(known(which[0]), which[1]) == pytest.approx(load, rel=PRINTED_LOAD)


@pytest.mark.parametrize(("words", "printed"), ISO_965.items())
def test_limits_of_size(words: str, printed: tuple[float, ...]) -> None:
    """ISO 965-1, 6g and 6H: tolerances from memory; the outside limits of M3 and M5 agree with a page
    read."""
    outside, inside = limits_of_size(known(words), "6g"), limits_of_size(known(words), "6H")
    assert outside is not None
    assert inside is not None
    found = [outside.major_max_mm, outside.major_min_mm, outside.pitch_max_mm, outside.pitch_min_mm]
    found += [inside.pitch_max_mm, inside.minor_min_mm, inside.minor_max_mm]
    assert found == pytest.approx(printed, abs=LAST_PLACE_MM)
    assert inside.pitch_min_mm == pytest.approx(geometry(known(words)).pitch_diameter_mm, abs=LAST_PLACE_MM)


@pytest.mark.parametrize(("words", "printed"), HEADS_AND_HOLES.items())
def test_heads_and_holes(words: str, printed: tuple[float, float, float]) -> None:
    """ISO 272 widths over flats, ISO 273 medium holes, mean of ISO 4014 dw and the hole: all from memory."""
    thread = known(words)
    assert (wrench_mm(thread), clearance_hole_mm(thread, "medium")) == printed[:2]
    assert bearing_diameter_mm(thread) == pytest.approx(printed[2], abs=0.0051)


@pytest.mark.parametrize("words", NO_THREADS)
def test_what_is_no_thread_of_a_standard(words: str) -> None:
    """ISO 261 and ASME B1.1 pair no such pitch with the diameter, or the words name no thread."""
    assert thread_of(words) is None


@pytest.mark.parametrize("name", ["", "11.9", "grade 9", "A9-70", "strong", "-8.8"])
def test_classes_of_no_standard(name: str) -> None:
    """No such class in ISO 898-1, ISO 3506-1 or SAE J429 (the absence from memory)."""
    assert property_class(name, 8) is None
    assert proof_load_N(known("M8"), name) is None
    assert tensile_load_min_N(known("M8"), name) is None


def test_classes_outside_their_sizes_and_systems() -> None:
    """EN ISO 898-1:2013 table 3 (read) has 9.8 to 16 mm only; its classes are not those of inch threads."""
    assert property_class("9.8", 20) is None
    assert proof_load_N(known("M20"), "9.8") is None
    assert proof_load_N(known("1/4-28 UNF"), "8.8") is None
    assert proof_load_N(known("M8"), "grade 5") is None
    assert proof_load_N(known("G 1/4"), "8.8") is None


def test_a_plain_head_tells_no_strength() -> None:
    """SAE J429 marks grade 5 by three lines and grade 8 by six (from memory); a plain head tells nothing."""
    assert classes_by_marks("3 lines") == ("grade 5",)
    assert classes_by_marks("6 lines") == ("grade 8",)
    assert classes_by_marks("") == ()


def test_what_has_no_stress_area_or_limits() -> None:
    """No standard states a stress area of a pipe thread; "9z" is no tolerance of ISO 965-1."""
    with pytest.raises(ValueError, match=r"."):
        stress_area_mm2(known("G 1/4"))
    assert limits_of_size(known("M10"), "9z") is None
