"""Speed as ratios against a peer, both measured in this run on this machine."""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from phreeqc import Phreeqc

from tanksheet.definition import catalogue
from tanksheet.formula import array_function
from tanksheet.recalc import Address, Value, engine
from tanksheet.sheets.cases import random_settings
from tanksheet.sheets.evaluate import entry_cells
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import book

SCENARIOS, SAMPLE = 1_000_000, 20_000
FUNCTIONS = ("STOCKMASS", "FEEDRATE", "TANKLIFE")


def main() -> None:
    print(f"{'what':58} {'ours':>12} {'peer':>12} {'ratio':>8} {'expected':>9}")
    recalculation()
    arrays()
    chemistry()


def row(what: str, ours: float, peer: float, expected: int) -> None:
    hoped = f"{expected}x" if expected else "-"
    print(f"{what:58} {ours:10.6f} s {peer:10.6f} s {peer / ours:7.0f}x {hoped:>9}")


def recalculation() -> None:
    """Setting every entry of the stock-tank workbook, recalculating, reading every result."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "stock-tank.xlsx"
        path.write_bytes(workbook_bytes(book("stock-tank")))
        ours = seconds_a_case(path, "ironcalc", 300)
        for peer, cases, expected in (("formulas", 5, 100), ("libreoffice", 15, 20)):
            what = f"recalculate the stock-tank workbook, against {peer}"
            row(what, ours, seconds_a_case(path, peer, cases), expected)


def seconds_a_case(path: Path, name: str, cases: int) -> float:
    """Mean time of a case after a first one, the file being open."""
    plan = book("stock-tank")
    draws = random_settings(plan, seed=7)
    wanted = [formula.cell for formula in plan.formulas.values()]
    inputs: list[dict[Address, Value]] = [entry_cells(plan, next(draws)) for _ in range(cases + 1)]
    with engine(name).open(path) as session:
        session.calculate(inputs[0], wanted)
        start = time.perf_counter()
        for each in inputs[1:]:
            session.calculate(each, wanted)
        return (time.perf_counter() - start) / cases


def arrays() -> None:
    """Mass to weigh, stock drawn and tank life for a million tanks."""
    draw = np.random.default_rng(7)
    target, content = draw.uniform(50, 300, SCENARIOS), draw.uniform(5, 46, SCENARIOS)
    ratio, tank = draw.uniform(50, 500, SCENARIOS), draw.uniform(50, 5000, SCENARIOS)
    flow = draw.uniform(5, 500, SCENARIOS)
    columns = {
        "STOCKMASS": (target, content, ratio, tank),
        "FEEDRATE": (flow, ratio),
        "TANKLIFE": (tank, flow, ratio),
    }
    known = catalogue()
    compiled = {name: array_function(known[name]) for name in FUNCTIONS}
    ours = seconds(lambda: [compiled[name](*columns[name]) for name in FUNCTIONS])
    rows = {
        name: list(zip(*(column[:SAMPLE].tolist() for column in columns[name]), strict=True))
        for name in FUNCTIONS
    }

    def row_by_row() -> None:
        for name in FUNCTIONS:
            function = known[name].function
            for each in rows[name]:
                function(*each)

    peer = seconds(row_by_row) * SCENARIOS / SAMPLE
    row("a million stock-tank scenarios in NumPy, against Python rows", ours, peer, 50)


def chemistry() -> None:
    """Conductivity of a million feeds, against a speciation program on a sample of them."""
    draw = np.random.default_rng(7)
    calcium, magnesium, potassium, sulfate = (draw.uniform(0.5, 6, SCENARIOS) for _ in range(4))
    nitrate = np.maximum(0, 2 * calcium + 2 * magnesium + potassium - 2 * sulfate)
    zero = np.zeros(SCENARIOS)
    columns = (calcium, magnesium, potassium, zero, zero, nitrate, sulfate, zero, zero, zero)
    compiled = array_function(catalogue()["EC"])
    ours = seconds(lambda: compiled(*columns))
    sample = 1000

    def by_speciation() -> None:
        program = Phreeqc()
        program.LoadBuiltInDatabase("phreeqc.dat")
        lines = ["SELECTED_OUTPUT", "-reset false", "USER_PUNCH", "-headings SC", "10 PUNCH SC"]
        for i in range(sample):
            lines += [
                f"SOLUTION {i + 1}",
                "units mmol/L",
                "pH 7 charge",
                "pe 12",
                f"Ca {calcium[i]}",
                f"Mg {magnesium[i]}",
                f"K {potassium[i]}",
                f"N(5) {nitrate[i]}",
                f"S(6) {sulfate[i]}",
                "END",
            ]
        program.RunString("\n".join(lines))

    start = time.perf_counter()
    by_speciation()
    peer = (time.perf_counter() - start) * SCENARIOS / sample
    row("EC of a million solutions in NumPy, against PHREEQC", ours, peer, 0)


def seconds(work: Callable[[], object]) -> float:
    """The best of three, which is the least disturbed by the machine."""
    times = []
    for _ in range(3):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


if __name__ == "__main__":
    main()
