"""The solver HiGHS behind a small door: a model of columns and rows in, an answer out.

HiGHS is loaded when the first model is solved. It runs on one thread, so that the same model gives
the same answer, and with a gap of 0, since its default of 1e-4 proves nothing.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from tanksheet.errors import EngineProblem

if TYPE_CHECKING:
    from highspy._core import _Highs

OPTIMAL, INFEASIBLE, UNBOUNDED, UNPROVEN = "optimal", "infeasible", "unbounded", "not proven"
# How far a bound or an optimality condition may be missed; a solution at a corner misses by less.
TOLERANCE, LOOSE = 1e-9, 1e-7
MOST_SECONDS = 120.0


@dataclass
class Model:
    """Minimise cost times columns, each column and each row between its bounds."""

    cost: list[float] = field(default_factory=list)
    lower: list[float] = field(default_factory=list)
    upper: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    rows: list[Mapping[int, float]] = field(default_factory=list)
    row_lower: list[float] = field(default_factory=list)
    row_upper: list[float] = field(default_factory=list)

    def column(self, cost: float, lower: float, upper: float, whole: bool = False) -> int:
        self.cost.append(cost)
        self.lower.append(lower)
        self.upper.append(upper)
        self.whole.append(whole)
        return len(self.cost) - 1

    def row(self, terms: Mapping[int, float], lower: float, upper: float) -> int:
        self.rows.append(terms)
        self.row_lower.append(lower)
        self.row_upper.append(upper)
        return len(self.rows) - 1

    def copy(self) -> Model:
        """One whose columns, rows and bounds may be changed; the terms of rows are shared."""
        return Model(*(list(part) for part in vars(self).values()))


@dataclass(frozen=True)
class Answer:
    """What came out; values and prices are there if the status is "optimal" or "not proven"."""

    status: str
    objective: float = math.nan
    columns: tuple[float, ...] = ()
    rows: tuple[float, ...] = ()
    row_prices: tuple[float, ...] = ()
    column_prices: tuple[float, ...] = ()
    bound: float = math.nan  # no solution has a smaller objective

    @property
    def is_feasible(self) -> bool:
        return self.status in (OPTIMAL, UNBOUNDED) or bool(self.columns)


def solved(model: Model, seconds: float = MOST_SECONDS) -> Answer:
    """The model's optimum. Raises: EngineProblem when the solver breaks down."""
    return Solver(model, seconds).run()


class Solver:
    """A model held in HiGHS, whose bounds and costs can be changed between runs."""

    def __init__(self, model: Model, seconds: float = MOST_SECONDS) -> None:
        self.model = model
        self.has_whole = any(model.whole)
        self.row_lower, self.row_upper = list(model.row_lower), list(model.row_upper)
        self.scales = [_scale(model, i) for i in range(len(model.rows))]
        self.highs = started(seconds)
        pass_model(self.highs, model, self.scales)

    def set_cost(self, column: int, cost: float) -> None:
        self.highs.changeColCost(column, cost)

    def set_row(self, row: int, lower: float, upper: float) -> None:
        self.row_lower[row], self.row_upper[row] = lower, upper
        self.highs.changeRowBounds(row, lower / self.scales[row], upper / self.scales[row])

    def run(self) -> Answer:
        if not self.model.cost:
            return self._without_columns()
        self.highs.run()
        status = status_of(self.highs)
        if status == "":  # infeasible or unbounded, which presolve does not tell apart
            self.highs.setOptionValue("presolve", "off")
            self.highs.clearSolver()
            self.highs.run()
            self.highs.setOptionValue("presolve", "choose")
            status = status_of(self.highs)
        if status == "":  # figures of very different size: the solver's own tolerance
            for name in ("primal", "dual"):
                self.highs.setOptionValue(f"{name}_feasibility_tolerance", LOOSE)
            self.highs.clearSolver()
            self.highs.run()
            status = status_of(self.highs)
        if status == "":
            said = self.highs.modelStatusToString(self.highs.getModelStatus())
            raise EngineProblem(f"the solver stopped without an answer: {said}")
        return self._answer(status)

    def _without_columns(self) -> Answer:
        if not all(a <= 0 <= b for a, b in zip(self.row_lower, self.row_upper, strict=True)):
            return Answer(INFEASIBLE)
        zeros = (0.0,) * len(self.row_lower)
        return Answer(OPTIMAL, 0.0, (), zeros, zeros, (), 0.0)

    def _answer(self, status: str) -> Answer:
        info = self.highs.getInfo()
        if status not in (OPTIMAL, UNPROVEN) or not math.isfinite(info.objective_function_value):
            return Answer(status)
        solution = self.highs.getSolution()
        bound = info.mip_dual_bound if self.has_whole else info.objective_function_value
        return Answer(
            status,
            info.objective_function_value,
            tuple(solution.col_value),
            tuple(v * s for v, s in zip(solution.row_value, self.scales, strict=True)),
            tuple(v / s for v, s in zip(solution.row_dual, self.scales, strict=True)),
            tuple(solution.col_dual),
            bound,
        )


def _scale(model: Model, row: int) -> float:
    """A power of two by which a row is divided, so that the tolerance is relative to its bounds."""
    ends = [abs(model.row_lower[row]), abs(model.row_upper[row])]
    sizes = [end for end in ends if end and math.isfinite(end)]
    sizes = sizes or [abs(value) for value in model.rows[row].values() if value]
    return 2.0 ** round(math.log2(max(sizes))) if sizes else 1.0


def started(seconds: float = MOST_SECONDS) -> _Highs:
    """HiGHS, silent, on one thread, with our tolerances."""
    import highspy

    # The class around it prints a greeting as it is made, into what a program may read as JSON.
    highs: _Highs = highspy._core._Highs()
    options: dict[str, Any] = {
        "output_flag": False,
        "threads": 1,
        "time_limit": seconds,
        "primal_feasibility_tolerance": TOLERANCE,
        "dual_feasibility_tolerance": TOLERANCE,
        "mip_feasibility_tolerance": TOLERANCE,
        "mip_rel_gap": 0.0,
        "mip_abs_gap": 0.0,
    }
    for name, value in options.items():
        if highs.setOptionValue(name, value) != highspy.HighsStatus.kOk:
            raise EngineProblem(f"the solver does not know its option {name}")
    return highs


def status_of(highs: _Highs) -> str:
    """The outcome in one of our words, or "" for none of them."""
    import highspy

    words = {
        highspy.HighsModelStatus.kOptimal: OPTIMAL,
        highspy.HighsModelStatus.kModelEmpty: OPTIMAL,
        highspy.HighsModelStatus.kInfeasible: INFEASIBLE,
        highspy.HighsModelStatus.kUnbounded: UNBOUNDED,
        highspy.HighsModelStatus.kTimeLimit: UNPROVEN,
    }
    return words.get(highs.getModelStatus(), "")


def pass_model(highs: _Highs, model: Model, scales: Sequence[float]) -> None:
    """Hands a model over, each row divided by its scale.

    Raises: EngineProblem for one that the solver refuses.
    """
    import highspy
    import numpy as np

    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(model.cost), len(model.rows)
    lp.col_cost_ = np.array(model.cost, dtype=float)
    lp.col_lower_, lp.col_upper_ = np.array(model.lower), np.array(model.upper)
    divisors = np.array(scales, dtype=float)
    lp.row_lower_ = np.array(model.row_lower, dtype=float) / divisors
    lp.row_upper_ = np.array(model.row_upper, dtype=float) / divisors
    scaled = zip(model.rows, scales, strict=True)
    entries = [(j, value / size) for row, size in scaled for j, value in row.items() if value]
    sizes = [sum(1 for value in row.values() if value) for row in model.rows]
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.cumsum([0, *sizes], dtype=np.int32)
    lp.a_matrix_.index_ = np.array([j for j, _ in entries], dtype=np.int32)
    lp.a_matrix_.value_ = np.array([value for _, value in entries], dtype=float)
    if any(model.whole):
        kinds = highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger
        lp.integrality_ = [kinds[whole] for whole in model.whole]
    if highs.passModel(lp) == highspy.HighsStatus.kError:
        raise EngineProblem("the solver refused the problem: a figure in it is too large")
