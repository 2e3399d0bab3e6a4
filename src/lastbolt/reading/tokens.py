"""What stands in a line of text: one way in to the readers of sizes, counts, callouts and torques."""

from lastbolt.reading.cell_counts import read_quantity
from lastbolt.reading.counts import (
    Count,
    Parenthesis,
    count_before,
    counts_in,
    parentheses_in,
    per_in,
    read_callouts,
)
from lastbolt.reading.fasteners import Size, fastener_nouns, head_in, kind_of, read_kind, sizes_in
from lastbolt.reading.lexicon import Hit, Lexicon, Scan, lexicon
from lastbolt.reading.torques import Torque, read_torque, torques_in
from lastbolt.reading.units import NEWTON_METRES, Printed, newton_metres, torque_unit, units_agree

__all__ = [
    "NEWTON_METRES", "Count", "Hit", "Lexicon", "Parenthesis", "Printed", "Scan", "Size", "Torque",
    "count_before", "counts_in", "fastener_nouns", "head_in", "kind_of", "lexicon", "newton_metres",
    "parentheses_in", "per_in", "read_callouts", "read_kind", "read_quantity", "read_torque", "sizes_in",
    "torque_unit", "torques_in", "units_agree",
]  # fmt: skip
