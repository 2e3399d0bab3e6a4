"""Can these causes explain it? One question, asked many times of one linear model that stays warm.

The answer is a state checked in whole numbers, or a conflict checked in fractions: floating-point numbers
only propose, they never decide. Where the linear model has solutions but no whole ones, a whole-number
search is asked; its "no" is then taken from the library and marked as such.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from typing import Any

from lastbolt.tally.model import HOLDER, Model
from lastbolt.tally.time_limit import TimeLimit

FREE = -1
HELD = -2
"""Sides: nothing holds; something holds. A side of 0 or more: that group of holders holds."""


Bounds = tuple[int | None, int | None]
OPEN: Bounds = (None, None)


@dataclass(frozen=True)
class Conflict:
    """Causes (bits) that cannot all be innocent on this side, and the weights on rows that show it.

    `rows` is empty for a conflict that only a whole-number search found. `bare` says that it does not use
    what the side assumes, so that it holds on every side.
    """

    causes: int
    rows: tuple[tuple[int, Fraction], ...]
    bare: bool


@dataclass(frozen=True)
class Found:
    """A state of the small model in which everything not excused is true."""

    values: tuple[int, ...]


@dataclass(frozen=True)
class Unanswered:
    """The library gave no answer that could be checked."""

    why: str


@dataclass(frozen=True)
class Row:
    """One row of the small model, in whole numbers; `low` or `high` None: open on that side."""

    terms: tuple[tuple[int, int], ...]
    low: int | None
    high: int | None


def rows_of(model: Model) -> list[Row]:
    """Rows in this order: claims, one tie per grid, one per group of holders (>= 1), all holders (>= 1)."""
    claims = model.claims.claims
    terms: list[list[tuple[int, int]]] = [[] for _ in claims]
    holds: dict[int, int] = {}
    for number, column in enumerate(model.columns):
        for j, a in column.terms:
            if j == HOLDER:
                holds[number] = a
            else:
                terms[j].append((number, a))
    rows = [
        Row(
            tuple(own),
            None if claim.sense == "<=" else claim.bound,
            None if claim.sense == ">=" else claim.bound,
        )
        for claim, own in zip(claims, terms, strict=True)
    ]
    for grid in model.grids:
        tie = [(r, 1) for r in grid.rows] + [(c, -1) for c in grid.columns]
        rows.append(Row(tuple(tie), 0, 0))
    rows.extend(Row(tuple((c, holds[c]) for c in group), 1, None) for group in model.groups)
    rows.append(Row(tuple(holds.items()), 1, None))
    return rows


def _rows_by_column(model: Model, rows: list[Row]) -> list[list[tuple[int, int]]]:
    """For each column the rows it stands in, with coefficients."""
    touched: list[list[tuple[int, int]]] = [[] for _ in model.columns]
    for number, row in enumerate(rows):
        for column, a in row.terms:
            touched[column].append((number, a))
    return touched


class Oracle:
    """Answers whether a side can be explained by given causes, keeping the linear model warm in between."""

    def __init__(self, model: Model, seconds: float, limit: TimeLimit | None = None) -> None:
        self.model = model
        self.rows = rows_of(model)
        self.seconds = seconds
        self.limit = limit
        self.asked = 0
        self._claims = len(model.claims.claims)
        self._first_group = self._claims + len(model.grids)
        self._plain: list[Bounds] = [(r.low, r.high) for r in self.rows]
        self._open_sides: list[Bounds] = [OPEN] * (len(self.rows) - self._first_group)
        self._most = [c.upper for c in model.columns]
        self._least = [c.lower for c in model.columns]
        self._touched = _rows_by_column(model, self.rows)
        self._lp = _library_model(model, self.rows, whole=False)
        self._now = self._plain
        self._mip: Any = None

    @property
    def spent_s(self) -> float:
        """Seconds the library reports to have worked so far."""
        mip = self._mip.getRunTime() if self._mip is not None else 0.0
        return float(self._lp.getRunTime()) + float(mip)

    def side_row(self, side: int) -> int:
        """The number of the row that says what the side assumes."""
        return self._first_group + side if side >= 0 else len(self.rows) - 1

    def ask(self, side: int, excused: int) -> Found | Conflict | Unanswered:
        """A state for `side` in which only claims with an excused cause are broken, or why there is none."""
        self.asked += 1
        if self.limit is not None and self.limit.over():
            return Unanswered(self.limit.words)
        bounds = self._bounds(side, excused)
        self._move(self._lp, self._now, bounds)
        self._now = bounds
        self._lp.run()
        status = self._lp.getModelStatus().name
        if status in ("kOptimal", "kUnbounded"):
            values = [round(v) for v in self._lp.getSolution().col_value]
            if self._fits(values, bounds):
                return Found(tuple(values))
            return self._ask_whole(side, excused, bounds)
        if status in ("kInfeasible", "kUnboundedOrInfeasible"):
            conflict = self._farkas(side, bounds)
            if conflict is not None:
                return conflict
        return self._ask_whole(side, excused, bounds)

    def tidy(self, side: int, excused: int) -> Found | None:
        """A state for `side` with as little still holding as possible, easier to read; None: not found."""
        import numpy as np

        holders = [c for c, _ in self.rows[-1].terms]
        numbers = np.array(holders, dtype=np.int32)
        bounds = self._bounds(side, excused)
        self._move(self._lp, self._now, bounds)
        self._now = bounds
        self._lp.changeColsCost(len(holders), numbers, np.ones(len(holders)))
        self._lp.run()
        values = [round(v) for v in self._lp.getSolution().col_value]
        optimal = self._lp.getModelStatus().name == "kOptimal"
        self._lp.changeColsCost(len(holders), numbers, np.zeros(len(holders)))
        return Found(tuple(values)) if optimal and self._fits(values, bounds) else None

    def excusing_all(self, state: Found, conflict: int) -> int:
        """Causes of `conflict` any one of which excuses all that this state breaks within the conflict."""
        for own in self.broken_by(state):
            if not own & ~conflict:
                conflict &= own
        return conflict

    def broken_by(self, state: Found) -> Iterator[int]:
        """The causes (bits) of each claim that is not true in this state."""
        totals = self._totals(state.values)
        for total, row, own in zip(totals, self.rows, self.model.cause_masks, strict=False):
            if (row.low is not None and total < row.low) or (row.high is not None and total > row.high):
                yield own

    def _totals(self, values: Sequence[int]) -> list[int]:
        """What each row adds up to in this state."""
        totals = [0] * len(self.rows)
        for value, touched in zip(values, self._touched, strict=True):
            if value:
                for row, a in touched:
                    totals[row] += a * value
        return totals

    def _bounds(self, side: int, excused: int) -> list[Bounds]:
        """What each row demands for this question."""
        bounds = self._plain[: self._first_group] + self._open_sides
        for j, own in enumerate(self.model.cause_masks):
            if own & excused:
                bounds[j] = OPEN
        bounds[self.side_row(side)] = (0, 0) if side == FREE else (1, None)
        return bounds

    def _move(self, library: Any, old: list[Bounds], new: list[Bounds]) -> None:
        for i, (was, now) in enumerate(zip(old, new, strict=True)):
            if was is not now and was != now:
                low, high = now
                library.changeRowBounds(
                    i, -_INFINITE if low is None else low, _INFINITE if high is None else high
                )

    def _fits(self, values: list[int], bounds: list[Bounds]) -> bool:
        """Whether the whole-number state satisfies every row in force and every column's bounds."""
        for value, least, most in zip(values, self._least, self._most, strict=True):
            if value < least or (most is not None and value > most):
                return False
        return all(
            (low is None or total >= low) and (high is None or total <= high)
            for total, (low, high) in zip(self._totals(values), bounds, strict=True)
        )

    def _farkas(self, side: int, bounds: list[Bounds]) -> Conflict | None:
        """The conflict that the library's ray proposes, if it adds up to a contradiction exactly."""
        _, there, ray = self._lp.getDualRay()
        if not there:
            return None
        proposed = [(i, float(v)) for i, v in enumerate(ray) if abs(v) > 1e-9]
        if not proposed:
            return None
        least = min(abs(v) for _, v in proposed)
        largest = max(abs(v) for _, v in proposed)
        for unit in (least, largest, 1.0):
            for sign in (1, -1):
                weights = [(i, Fraction(sign * v / unit).limit_denominator(720)) for i, v in proposed]
                weights = [(i, w) for i, w in weights if w]
                if self._contradicts(weights, bounds):
                    return self._conflict(side, weights)
        return None

    def _conflict(self, side: int, weights: list[tuple[int, Fraction]]) -> Conflict:
        causes = 0
        for i, _ in weights:
            if i < self._claims:
                causes |= self.model.cause_masks[i]
        side_row = self.side_row(side)
        return Conflict(causes, tuple(weights), all(i != side_row for i, _ in weights))

    def _contradicts(self, weights: list[tuple[int, Fraction]], bounds: list[Bounds]) -> bool:
        """Whether the rows, so weighted, and the columns' bounds add up to 0 <= something negative."""
        # Times their common denominator the weights are whole numbers, which add up much faster.
        scale = lcm(*(w.denominator for _, w in weights))
        right = 0
        left: dict[int, int] = {}
        for i, w in ((i, int(w * scale)) for i, w in weights):
            low, high = bounds[i]
            end = high if w > 0 else low
            if end is None:
                return False
            right += w * end
            for c, a in self.rows[i].terms:
                left[c] = left.get(c, 0) + w * a
        for c, rest in left.items():
            column = self.model.columns[c]
            if rest > 0:
                right -= rest * column.lower
            elif rest < 0:
                if column.upper is None:
                    return False
                right -= rest * column.upper
        return right < 0

    def _ask_whole(self, side: int, excused: int, bounds: list[Bounds]) -> Found | Conflict | Unanswered:
        """The answer of a whole-number search, with as few causes in its conflict as deletion finds."""
        answer = self._whole(bounds)
        if answer is None or isinstance(answer, list):
            return (
                Found(tuple(answer))
                if answer is not None
                else Unanswered("whole-number search gave no answer")
            )
        everything = (1 << len(self.model.claims.causes)) - 1
        conflict = everything & ~excused
        used = 0
        for j in range(self._claims):
            if not self.model.cause_masks[j] & excused:
                used |= self.model.cause_masks[j]
        conflict &= used
        return Conflict(self._fewer(side, conflict), (), False)

    def _fewer(self, side: int, conflict: int) -> int:
        """A conflict within `conflict`: causes are left out while "no" stays the answer."""
        everything = (1 << len(self.model.claims.causes)) - 1
        causes = [1 << i for i in range(conflict.bit_length()) if conflict >> i & 1]
        size = len(causes) // 2
        while size:
            position = 0
            while position < len(causes):
                without = causes[:position] + causes[position + size :]
                innocent = sum(without)
                if self._whole(self._bounds(side, everything & ~innocent)) is False:
                    causes = without
                else:
                    position += size
            size //= 2
        return sum(causes)

    def _whole(self, bounds: list[Bounds]) -> list[int] | bool | None:
        """A checked whole-number state, False for "there is none", None for "no answer"."""
        if self._mip is None:
            self._mip = _library_model(self.model, self.rows, whole=True)
            self._mip_now = [(r.low, r.high) for r in self.rows]
        left = self.seconds - self.spent_s
        if left <= 0:
            return None
        self._mip.setOptionValue("time_limit", float(self._mip.getRunTime()) + left)
        self._move(self._mip, self._mip_now, bounds)
        self._mip_now = bounds
        self._mip.run()
        status = self._mip.getModelStatus().name
        if status == "kInfeasible":
            return False
        if status == "kOptimal":
            values = [round(v) for v in self._mip.getSolution().col_value]
            if self._fits(values, bounds):
                return values
        return None


_INFINITE = float("inf")


def _library_model(model: Model, rows: list[Row], *, whole: bool) -> Any:
    """The rows and columns handed to HiGHS, with nothing to minimise."""
    import highspy
    import numpy as np

    starts, indices, values = [0], [], []
    for row in rows:
        for c, a in row.terms:
            indices.append(c)
            values.append(float(a))
        starts.append(len(indices))
    lp = highspy.HighsLp()
    lp.num_col_ = len(model.columns)
    lp.num_row_ = len(rows)
    lp.col_cost_ = np.zeros(len(model.columns))
    lp.col_lower_ = np.array([float(c.lower) for c in model.columns])
    lp.col_upper_ = np.array([_INFINITE if c.upper is None else float(c.upper) for c in model.columns])
    lp.row_lower_ = np.array([-_INFINITE if r.low is None else float(r.low) for r in rows])
    lp.row_upper_ = np.array([_INFINITE if r.high is None else float(r.high) for r in rows])
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.array(starts, dtype=np.int32)
    lp.a_matrix_.index_ = np.array(indices, dtype=np.int32)
    lp.a_matrix_.value_ = np.array(values)
    if whole:
        lp.integrality_ = [highspy.HighsVarType.kInteger] * len(model.columns)
    library: Any = highspy.Highs()  # type: ignore[no-untyped-call]
    library.setOptionValue("output_flag", False)
    library.setOptionValue("threads", 1)
    library.setOptionValue("random_seed", 1)
    if not whole:
        library.setOptionValue("presolve", "off")
        library.setOptionValue("solver", "simplex")
    library.passModel(lp)
    return library
