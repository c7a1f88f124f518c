"""Long formulas in steps: what is worked out twice becomes one step, and says the same."""

from __future__ import annotations

from tanksheet.definition import catalogue
from tanksheet.formula import Ref, formula_text, read_calculation
from tanksheet.formula.nodes import Const, Node, Op
from tanksheet.formula.steps import WHOLE, in_steps
from tanksheet.units import QUANTITIES


def long_sum(part: Node, times: int) -> Node:
    whole: Node = part
    for _ in range(times):
        whole = Op("+", whole, fresh())
    return whole


def fresh() -> Node:
    """tank * tank + 2 / tank, of new nodes each time."""
    tank = Ref("tank")
    return Op("+", Op("*", tank, Ref("tank")), Op("/", Const(2.0), Ref("tank")))


def test_equal_parts_are_one_step() -> None:
    steps = in_steps(long_sum(fresh(), WHOLE), "step_{}".format, {"tank": QUANTITIES["tank"]})
    assert [formula_text(node) for _, node in steps.parts] == ["tank*tank+2/tank"]
    assert formula_text(steps.result).count("step_1") == WHOLE + 1


def test_parts_that_differ_stay_apart() -> None:
    other = Op("+", Op("*", Ref("tank"), Ref("tank")), Op("/", Const(3.0), Ref("tank")))
    tree = Op("-", long_sum(fresh(), WHOLE), Op("*", other, other))
    steps = in_steps(tree, "step_{}".format, {"tank": QUANTITIES["tank"]})
    texts = [formula_text(node) for _, node in steps.parts]
    assert sorted(texts) == ["tank*tank+2/tank", "tank*tank+3/tank"]


def test_the_longest_calculation_stays_in_cells() -> None:
    record = catalogue()["FEEDPH"]
    steps = in_steps(read_calculation(record.function), "step_{}".format, record.parameters)
    cells = [formula_text(node) for node in (*(part for _, part in steps.parts), steps.result)]
    assert len(cells) > 100
    assert max(map(len, cells)) < 8192
