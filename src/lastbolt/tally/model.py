"""A claim set made small: the same question with fewer unknowns, and the way back.

Two kinds of unknowns are put together, both without changing which causes explain what:

- unknowns that stand in every claim with the same coefficients become one, their sum;
- a *grid*: pieces of many lines at many places, where some claims speak of whole places and the others of
  whole lines. Only the sums over each place and over each line matter then; any whole sums with the same
  total can be filled into the grid again. This needs that no cell is kept below its place's sum by a
  bound of its own.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from lastbolt.words.claims import ClaimSet, Unknown

Key = tuple[tuple[int, int], ...]
"""Claims (by number) and the coefficients an unknown has in them; number -1 stands for "is a holder"."""

HOLDER = -1
MANY = 200
"""With fewer unknowns than this a grid is not worth looking for."""


@dataclass(frozen=True)
class Column:
    """One unknown of the small model; `upper` is None where other rows already bound it."""

    lower: int
    upper: int | None
    terms: Key


@dataclass(frozen=True)
class Grid:
    """Cells (lists of unknowns) whose row sums and column sums are small-model columns."""

    rows: tuple[int, ...]
    columns: tuple[int, ...]
    cells: dict[tuple[int, int], tuple[int, ...]]


@dataclass(frozen=True)
class Model:
    """The small model: columns, rows as in the claim set, grids that tie sums, and groups of holders."""

    claims: ClaimSet
    columns: tuple[Column, ...]
    alone: tuple[tuple[int, tuple[int, ...]], ...]
    """Columns that are plain sums of unknowns: (column, unknowns)."""
    grids: tuple[Grid, ...]
    cause_masks: tuple[int, ...]
    """For each claim its causes, as bits in the order of the claim set's causes."""
    groups: tuple[tuple[int, ...], ...]
    """Holders that one assumption covers together, as columns; every holder column is in exactly one."""
    group_holders: tuple[tuple[str, ...], ...]

    def unknown(self, name: str) -> Unknown:
        """The unknown of that id."""
        return self.by_id[name]

    @cached_property
    def by_id(self) -> dict[str, Unknown]:
        """The claim set's unknowns by id."""
        return {u.id: u for u in self.claims.unknowns}

    @cached_property
    def holder_ids(self) -> frozenset[str]:
        """The holders' ids."""
        return frozenset(self.claims.holders)

    @cached_property
    def stands_in(self) -> list[list[tuple[int, int]]]:
        """For each unknown of the claim set the claims it stands in, by number, with coefficients."""
        number = {u.id: i for i, u in enumerate(self.claims.unknowns)}
        found: list[list[tuple[int, int]]] = [[] for _ in self.claims.unknowns]
        for j, claim in enumerate(self.claims.claims):
            for unknown, coefficient in claim.terms:
                found[number[unknown]].append((j, coefficient))
        return found


def small_model(claims: ClaimSet) -> Model:
    """The claim set with unknowns put together wherever that changes nothing."""
    keys = _keys(claims)
    across = _across(claims, keys)
    cells: dict[tuple[Key, Key], list[int]] = defaultdict(list)
    for number, key in enumerate(keys):
        row = tuple(t for t in key if t[0] not in across)
        column = tuple(t for t in key if t[0] in across)
        cells[row, column].append(number)
    return _Builder(claims, dict(cells)).model()


def _keys(claims: ClaimSet) -> list[Key]:
    """For each unknown the claims it stands in, with coefficients."""
    number = {u.id: i for i, u in enumerate(claims.unknowns)}
    columns: list[dict[int, int]] = [{} for _ in claims.unknowns]
    for unknown in claims.holders:
        columns[number[unknown]][HOLDER] = 1
    for j, claim in enumerate(claims.claims):
        for unknown, coefficient in claim.terms:
            column = columns[number[unknown]]
            column[j] = column.get(j, 0) + coefficient
    return [tuple((j, a) for j, a in column.items() if a) for column in columns]


def _across(claims: ClaimSet, keys: list[Key]) -> frozenset[int]:
    """Claims taken to run across places (about lines), chosen so that the small model gets small.

    Any choice is right; a poor one only leaves the model large. Claims of one kind go together.
    """
    if len(keys) < MANY:
        return frozenset()
    import numpy as np

    entry_unknown = np.array([i for i, key in enumerate(keys) for _ in key], dtype=np.int64)
    entry_claim = np.array([j for key in keys for j, _ in key], dtype=np.int64) + 1
    entry_value = np.array([a for key in keys for _, a in key], dtype=np.int64)
    kinds = list(dict.fromkeys(c.kind for c in claims.claims))
    kind_number = {kind: k for k, kind in enumerate(kinds, start=1)}
    claim_kind = np.array([0] + [kind_number[c.kind] for c in claims.claims])
    entry_kind = claim_kind[entry_claim]
    spread = _spread(np.arange(len(claims.claims) + 1))[entry_claim] * (
        2 * entry_value.astype(np.uint64) + np.uint64(1)
    )
    kind_sums = np.zeros((len(kinds) + 1, len(keys)), dtype=np.uint64)
    np.add.at(kind_sums, (entry_kind, entry_unknown), spread)

    def size(chosen: list[bool]) -> int:
        mask = np.array([False, *chosen])
        rows = np.unique(kind_sums[~mask].sum(axis=0, dtype=np.uint64), return_inverse=True)[1]
        columns = np.unique(kind_sums[mask].sum(axis=0, dtype=np.uint64), return_inverse=True)[1]
        pairs = np.unique(rows.astype(np.int64) * len(keys) + columns)
        row, column = pairs // len(keys), pairs % len(keys)
        support = np.zeros(int(row.max()) + 1, dtype=np.uint64)
        np.add.at(support, row, _spread(column))
        count = np.bincount(row)
        _, first, number = np.unique(support, return_index=True, return_counts=True)
        width = count[first]
        return int(np.minimum(width * number, width + number).sum())

    # A grid's rows need a claim without causes that bounds them, so those stay with the rows.
    firm = {c.kind for c in claims.claims if not c.causes}
    flexible = [k for k, kind in enumerate(kinds) if kind not in firm]
    chosen = [False] * len(kinds)
    best = size(chosen)
    for _ in range(2):
        before = best
        for k in flexible:
            chosen[k] = not chosen[k]
            now = size(chosen)
            if now < best:
                best = now
            else:
                chosen[k] = not chosen[k]
        if best == before:
            break
    return frozenset(j for j, c in enumerate(claims.claims) if chosen[kind_number[c.kind] - 1])


def _spread(numbers: Any) -> Any:
    """Numbers mixed into 64 bits, so that sums of different sets differ (only speed rests on it)."""
    import numpy as np

    mixed = (numbers.astype(np.uint64) + np.uint64(1)) * np.uint64(0x9E3779B97F4A7C15)
    mixed = (mixed ^ (mixed >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    return mixed ^ (mixed >> np.uint64(27))


class _Builder:
    """Writes the columns of the small model."""

    def __init__(self, claims: ClaimSet, cells: dict[tuple[Key, Key], list[int]]) -> None:
        self.claims = claims
        self.cells = cells
        self.columns: list[Column] = []
        self.alone: list[tuple[int, tuple[int, ...]]] = []
        self.grids: list[Grid] = []
        self.groups: dict[Key, tuple[list[int], list[int]]] = {}
        self._lower = {u.id: u.lower for u in claims.unknowns}
        self._positive: dict[int, bool] = {}
        self._some_negative = any(self._lower[h] < 0 for h in claims.holders)

    def model(self) -> Model:
        """The finished small model."""
        support: dict[Key, list[Key]] = defaultdict(list)
        for row, column in self.cells:
            support[row].append(column)
        alike: dict[tuple[bool, frozenset[Key]], list[Key]] = defaultdict(list)
        for row, own in support.items():
            alike[self._unbound(row, own), frozenset(own)].append(row)
        for (unbound, _), rows in alike.items():
            own = support[rows[0]]
            if unbound and len(rows) * len(own) > len(rows) + len(own):
                self._add_grid(rows, own)
            else:
                for row in rows:
                    for column in support[row]:
                        self._add_alone(row, column)
        bit = {c.id: 1 << i for i, c in enumerate(self.claims.causes)}
        names = [u.id for u in self.claims.unknowns]
        return Model(
            claims=self.claims,
            columns=tuple(self.columns),
            alone=tuple(self.alone),
            grids=tuple(self.grids),
            cause_masks=tuple(_bits(bit[k] for k in c.causes) for c in self.claims.claims),
            groups=tuple(tuple(columns) for columns, _ in self.groups.values()),
            group_holders=tuple(tuple(names[u] for u in unknowns) for _, unknowns in self.groups.values()),
        )

    def _bounds(self, unknowns: list[int]) -> tuple[int, int]:
        each = [self.claims.unknowns[u] for u in unknowns]
        return sum(u.lower for u in each), sum(u.upper for u in each)

    def _unbound(self, row: Key, columns: list[Key]) -> bool:
        """Whether a claim without causes already keeps the row's sum within each cell's upper bound."""
        cap = min((c for j, a in row if (c := self._cap(j, a)) is not None), default=None)
        if cap is None or any(j == HOLDER and a != 1 for j, a in row):
            return False
        bounds = [self._bounds(self.cells[row, column]) for column in columns]
        return all(lower == 0 and upper >= cap for lower, upper in bounds) and all(
            self.claims.unknowns[u].lower == 0 for column in columns for u in self.cells[row, column]
        )

    def _cap(self, j: int, coefficient: int) -> int | None:
        """The most that unknowns with this coefficient in claim j add up to, if the claim alone says so."""
        if j == HOLDER:
            return None
        claim = self.claims.claims[j]
        if claim.causes or claim.sense == ">=" or coefficient <= 0 or claim.bound < 0:
            return None
        if j not in self._positive:
            self._positive[j] = all(a >= 0 and self._lower[u] >= 0 for u, a in claim.terms)
        return claim.bound // coefficient if self._positive[j] else None

    def _add_alone(self, row: Key, column: Key) -> None:
        unknowns = self.cells[row, column]
        lower, upper = self._bounds(unknowns)
        self._note_holder(row, len(self.columns), unknowns)
        self.alone.append((len(self.columns), tuple(unknowns)))
        self.columns.append(Column(lower, upper, row + column))

    def _add_grid(self, rows: list[Key], columns: list[Key]) -> None:
        row_numbers, column_numbers = [], []
        for row in rows:
            row_numbers.append(len(self.columns))
            self._note_holder(row, len(self.columns), [u for c in columns for u in self.cells[row, c]])
            self.columns.append(Column(0, None, row))
        for column in columns:
            column_numbers.append(len(self.columns))
            self.columns.append(Column(0, None, column))
        cells = {
            (r, c): tuple(self.cells[row, column])
            for r, row in zip(row_numbers, rows, strict=True)
            for c, column in zip(column_numbers, columns, strict=True)
        }
        self.grids.append(Grid(tuple(row_numbers), tuple(column_numbers), cells))

    def _note_holder(self, row: Key, number: int, unknowns: list[int]) -> None:
        if not any(j == HOLDER for j, _ in row):
            return
        # Holders about which the same is said place by place go together: all lines at one place.
        # With a holder that may be negative, only the sum over all of them says whether anything holds.
        columns, holders = self.groups.setdefault(() if self._some_negative else row, ([], []))
        columns.append(number)
        holders.extend(unknowns)


def _bits(values: Iterable[int]) -> int:
    total = 0
    for value in values:
        total |= value
    return total


def lift(model: Model, values: list[int]) -> list[int]:
    """The small model's state filled back into the unknowns of the claim set."""
    state = [0] * len(model.claims.unknowns)
    for column, unknowns in model.alone:
        _pour(model, state, unknowns, values[column])
    for grid in model.grids:
        left = {c: values[c] for c in grid.columns}
        for r in grid.rows:
            rest = values[r]
            for c in grid.columns:
                amount = min(rest, left[c])
                if amount:
                    _pour(model, state, grid.cells[r, c], amount)
                    left[c] -= amount
                    rest -= amount
                if not rest:
                    break
    return state


def _pour(model: Model, state: list[int], unknowns: tuple[int, ...], amount: int) -> None:
    """Share out `amount` among unknowns that nothing tells apart, within their bounds."""
    rest = amount
    for u in unknowns:
        state[u] = model.claims.unknowns[u].lower
        rest -= state[u]
    for u in unknowns:
        more = min(rest, model.claims.unknowns[u].upper - state[u])
        state[u] += more
        rest -= more
