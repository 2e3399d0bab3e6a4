"""The size that a line of a torque table prints, read as every other size is: "M8-8.8" has no length."""

from functools import lru_cache

from msgspec.structs import replace

from lastbolt.reading.fasteners import sizes_in
from lastbolt.reading.torque_conditions import strength_in
from lastbolt.words.machine import TorqueRow
from lastbolt.words.quantity import Kind


def size_of_row(row: TorqueRow) -> Kind:
    """Thread, length and strength class, as far as the line says them; the model's thread goes first."""
    said = row.citations[0].words if row.citations else ""
    said = said or (row.value.citations[0].words if row.value.citations else "")
    size = _size(said or row.what, row.thread)
    strength = strength_in(row.value.condition)
    return replace(size, strength=strength) if strength else size


@lru_cache(maxsize=20_000)
def _size(said: str, thread: str | None) -> Kind:
    own = next((size.thread for size in sizes_in(thread or "") if size.thread), thread)
    for size in sizes_in(said):
        if size.plain or not size.thread:
            continue
        if own is None or _without_pitch(size.thread) == _without_pitch(own):
            return Kind(None, own or size.thread, size.length_mm, strength=size.strength)
    return Kind(None, own)


def _without_pitch(thread: str) -> str:
    return thread.partition("x")[0]
