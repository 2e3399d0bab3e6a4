"""How strong a screw is: property classes and grades, their loads on a thread, and what head marks say."""

import re
from functools import lru_cache
from typing import Any

from msgspec import Struct

from lastbolt.threads.designation import Thread
from lastbolt.threads.geometry import stress_area_mm2
from lastbolt.threads.tables import rows, table

KSI_MPA = 6.894757


class PropertyClass(Struct, frozen=True):
    """Smallest strengths of a class [MPa] at one diameter. `system`: its threads, or "any"."""

    name: str
    tensile_min_MPa: float
    yield_min_MPa: float
    proof_MPa: float
    source: str
    system: str = "any"


def class_name(words: str) -> str | None:
    """The name of a class as the tables write it, or None: "Grade 8" -> "grade 8", "a2-70" -> "A2-70".

    >>> class_name("SAE Grade 8"), class_name("class 10.9"), class_name("11.1")
    ('grade 8', '10.9', None)
    """
    text = " ".join(words.split()).replace(",", ".").replace("–", "-")
    text = re.sub(r"^(?:property\s+)?class\s*", "", text, flags=re.I)
    text = re.sub(r"^(?:sae\s+)?(?:j429\s+)?(?:grade|gr\.?|sae)\s*", "grade ", text, flags=re.I)
    known = _classes()
    return next((name for name in known if name.lower() == text.lower()), None)


@lru_cache(maxsize=1)
def _classes() -> dict[str, tuple[list[dict[str, Any]], str, str]]:
    found = {}
    for row in table("classes")["class"]:
        for name in row["names"]:
            found[name] = (row["steps"], row["source"], row["system"])
    return found


def property_class(name: str, major_mm: float) -> PropertyClass | None:
    """The strengths of a class at a diameter; None where the standard has no such class or size.

    Source: ISO 898-1, ISO 3506-1, SAE J429.

    >>> property_class("8.8", 8).tensile_min_MPa, property_class("8.8", 20).tensile_min_MPa
    (800.0, 830.0)
    """
    known = class_name(name)
    if known is None:
        return None
    steps, source, system = _classes()[known]
    for step in steps:
        over, to = step["over"], step["to"]
        if over < major_mm <= to:
            factor = KSI_MPA if "ksi" in step else 1.0
            stress = step["ksi" if "ksi" in step else "stress"]
            tensile, yielding, proof = (float(value) * factor for value in stress)
            return PropertyClass(known, tensile, yielding, proof, source, system)
    return None


def class_of(thread: Thread, name: str) -> PropertyClass | None:
    """The class on a thread; None where the class is not stated for threads of this system."""
    found = property_class(name, thread.major_mm)
    if found is None or thread.system == "pipe" or found.system not in ("any", thread.system):
        return None
    return found


def proof_load_N(thread: Thread, name: str) -> float | None:
    """The load that a screw of this class must bear without staying longer: stress area times proof stress.

    Source: ISO 898-1:2013, 9.6; SAE J429.

    >>> from lastbolt.threads.designation import thread_of
    >>> round(proof_load_N(thread_of("M8"), "8.8"), -2)
    21200.0
    """
    found = class_of(thread, name)
    return None if found is None else stress_area_mm2(thread) * found.proof_MPa


def tensile_load_min_N(thread: Thread, name: str) -> float | None:
    """The load below which no screw of this class may break: stress area times smallest tensile strength.

    Source: ISO 898-1:2013, 9.1; SAE J429.
    """
    found = class_of(thread, name)
    return None if found is None else stress_area_mm2(thread) * found.tensile_min_MPa


def classes_by_marks(marks: str) -> tuple[str, ...]:
    """The classes that marks on a head can mean; () where none is meant: the strength is then unknown.

    A plain head is not marked, so nothing is known of it. "08.8" (a leading nought: reduced load) is no 8.8.

    Source: ISO 898-1:2013, clause 10; SAE J429; ISO 3506-1.

    >>> classes_by_marks("8.8"), classes_by_marks("3 radial lines"), classes_by_marks("A2")
    (('8.8',), ('grade 5',), ('A2-50', 'A2-70', 'A2-80'))
    """
    text = " ".join(marks.lower().replace(",", ".").split())
    lines = re.fullmatch(r"(\w+) (?:(?:radial|raised) )?(?:lines?|dashes|strokes|ticks|marks)", text)
    if lines:
        number = table("classes")["numbers"].get(lines[1], lines[1])
        return tuple(rows(table("classes")["lines"]).get(number, ()))
    if re.fullmatch(r"a[1-5]", text):
        return tuple(name for name in _classes() if name.lower().startswith(text + "-"))
    if re.fullmatch(r"[4-9][68]|109|129", text):
        text = f"{text[:-1]}.{text[-1]}"
    known = next((name for name in _classes() if name.lower() == text), None)
    return () if known is None else (known,)
