"""Parts rows of a variant that the model does not know: nobody can say that they are for another engine."""

from msgspec.structs import replace

from lastbolt.tally.unused import row_of_unknown_variant
from lastbolt.words.applies import variant_key
from lastbolt.words.machine import Machine, PartsRow
from lastbolt.words.problem import Problem


def with_unknown_variants_kept(machine: Machine | None) -> tuple[Machine | None, list[Problem]]:
    """The model with such rows for every variant, and a problem for each name.

    A model that names no variants at all knows those of its rows.
    """
    known = {variant_key(name) for name in machine.variants} if machine else set()
    if machine is None or not known:
        return machine, []
    rows: list[PartsRow] = []
    unknown: dict[str, PartsRow] = {}
    for row in machine.rows:
        strange = [name for name in row.applies.variants if variant_key(name) not in known]
        if row.kind is None or not strange:
            rows.append(row)
            continue
        for name in strange:
            unknown.setdefault(name, row)
        rows.append(replace(row, applies=replace(row.applies, variants=())))
    if not unknown:
        return machine, []
    listed = " or ".join(machine.variants)
    problems = [row_of_unknown_variant(row.id, name, listed) for name, row in unknown.items()]
    return replace(machine, rows=tuple(rows)), problems
