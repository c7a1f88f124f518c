"""Speed as ratios against a peer, both measured in this run on this machine."""

from __future__ import annotations

import importlib
import itertools
import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from itertools import count
from math import isclose
from pathlib import Path

import batch_bench
import numpy as np
import recipes_bench
from openpyxl import Workbook
from phreeqc import Phreeqc

from tanksheet.definition import catalogue
from tanksheet.formula import Ref, array_function, formula_text, read_call
from tanksheet.hosts.lambdas.names import write_functions
from tanksheet.hosts.libreoffice.extension import unpack
from tanksheet.hosts.xlwings.project import write_project
from tanksheet.recalc import ENGINES, convert, engine
from tanksheet.recalc.ironcalc_engine import IronCalcBook
from tanksheet.recalc.libreoffice_engine import LibreOffice
from tanksheet.sheets.cases import random_settings
from tanksheet.sheets.evaluate import entry_cells
from tanksheet.sheets.run import run_in
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import book
from tanksheet.xlsx.address import Address, Value

UDF_RUNS = Path(__file__).parents[2] / "tests" / "hosts" / "udf_runs.py"
SCENARIOS, SAMPLE, CALLS, IN_OFFICE = 1_000_000, 20_000, 10_000, 100_000
FUNCTIONS = ("STOCKMASS", "FEEDRATE", "TANKLIFE")
DAILY = "ironcalc"  # the engine that commands use if no other is named
QUICK_CASES, SLOW_CASES, TURNS = 300, 15, 9
HOPED = {"formulas": 100}
BARE = """
import sys, ironcalc
ironcalc.load_from_xlsx(sys.argv[1], "en", "UTC", "en").evaluate()
"""


def main() -> None:
    print(f"{'what':58} {'ours':>12} {'peer':>12} {'ratio':>8} {'expected':>9}")
    recalculation()
    daily_call()
    kept_session()
    quick_engines()
    arrays()
    chemistry()
    in_libreoffice()
    lambda_names()
    xlwings_columns()
    recipes_bench.recipes(row)
    batch_bench.batch(row)


def row(what: str, ours: float, peer: float, expected: float) -> None:
    """The ratio is how many times as fast we are; below 1 it is what a convenience costs."""
    hoped = f"{round(expected, 2):g}x" if expected else "-"
    ratio = f"{peer / ours:.0f}" if peer > 10 * ours else f"{peer / ours:.2f}"
    print(f"{what:58} {ours:10.6f} s {peer:10.6f} s {ratio:>7}x {hoped:>9}")


def recalculation() -> None:
    """Setting every entry of the stock-tank workbook, recalculating, reading every result."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "stock-tank.xlsx"
        path.write_bytes(workbook_bytes(book("stock-tank")))
        ours = seconds_a_case(path, DAILY, QUICK_CASES)
        for name, peer in ENGINES.items():
            if name != DAILY:
                cases = QUICK_CASES if peer.is_quick else min(peer.random_cases, SLOW_CASES)
                what = f"recalculate the stock-tank workbook, against {name}"
                row(what, ours, seconds_a_case(path, name, cases), HOPED.get(name, 0))
        started = seconds(lambda: convert(path, Path(folder) / "out", "xlsx"))
        row("the same, against starting headless LibreOffice for it", ours, started, 20)


def daily_call() -> None:
    """``tanksheet run`` on the largest workbook, against a process that only loads and evaluates.

    Both are started in turn, because the machine may be busier at one time than at another.
    """
    with recipe() as path:
        run = [sys.executable, "-m", "tanksheet.cli", "run", str(path), "--get", "ec_feed"]
        bare = [sys.executable, "-c", BARE, str(path)]
        ours, peer = best_in_turn(lambda: quiet(run), lambda: quiet(bare))
    row("tanksheet run recipe.xlsx, against a bare process", ours, peer, 1 / 1.5)


def kept_session() -> None:
    """A second call in an open workbook, against the engine's own evaluation in this process."""
    library = importlib.import_module("ironcalc")
    plan = book("recipe")
    with recipe() as path, engine(DAILY).open(path) as session:
        alone = library.load_from_xlsx(str(path), "en", "UTC", "en")
        alone.evaluate()
        draws = itertools.count(100)

        def call() -> None:
            run_in(session, plan, {"ratio": f"1:{next(draws)}"}, ["ec_feed"])

        call()
        ours, peer = best_in_turn(call, alone.evaluate)
        row("a second call in a kept session, against evaluate alone", ours, peer, 1 / 1.2)
        near = IronCalcBook(str(path))
        wanted = [formula.cell for formula in plan.formulas.values()]
        cases = [entry_cells(plan, each) for each in itertools.islice(random_settings(plan, 7), 2)]
        turns = itertools.cycle(cases), itertools.cycle(cases)
        ours, peer = best_in_turn(
            lambda: session.calculate(next(turns[0]), wanted),
            lambda: near.calculate(next(turns[1]), wanted),
        )
        row("a case of all cells in the child, against in this process", ours, peer, 0.8)


def quick_engines() -> None:
    """A random case of the largest workbook in each engine that is quick."""
    with recipe() as path:
        ours = seconds_a_case(path, DAILY, 20, "recipe")
        for name, peer in ENGINES.items():
            if peer.is_quick and name != DAILY:
                what = f"recalculate the recipe workbook, against {name}"
                row(what, ours, seconds_a_case(path, name, 20, "recipe"), 0)


@contextmanager
def recipe() -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "recipe.xlsx"
        path.write_bytes(workbook_bytes(book("recipe")))
        yield path


def quiet(command: list[str]) -> None:
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)


def best_in_turn(one: Callable[[], object], other: Callable[[], object]) -> tuple[float, float]:
    """The best time of each of two, which take turns."""
    times = [(timed(one), timed(other)) for _ in range(TURNS)]
    return min(first for first, _ in times), min(second for _, second in times)


def timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def seconds_a_case(path: Path, name: str, cases: int, workbook: str = "stock-tank") -> float:
    """Mean time of a case after a first one, the file being open."""
    plan = book(workbook)
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


def in_libreoffice() -> None:
    """A column of cells that call the extension, and one of cells with the same arithmetic.

    Called as little as the arithmetic costs, the extension cannot win: this is the price of a
    name in place of a formula, and of the checks of its arguments.
    """
    with tempfile.TemporaryDirectory() as folder:
        unpack(Path(folder) / "extensions" / "fert.oxt")
        os.environ["BUNDLED_EXTENSIONS"] = (Path(folder) / "extensions").as_uri()
        office = LibreOffice()
        called = column_steps(office, Path(folder), "=FERT.STOCKMASS(A{0},B{0},C{0},$F$1)")
        native = column_steps(office, Path(folder), "=A{0}*C{0}*$F$1/(B{0}*10)")
        office.close()
    for times in (called, native):
        times["all three"] = sum(times.values())
    for step, ours in called.items():
        row(f"{IN_OFFICE:,} calls of the LibreOffice extension: {step}", ours, native[step], 0)


def column_steps(office: LibreOffice, folder: Path, formula: str) -> dict[str, float]:
    """Time to open a column of formulas, to set what all depend on, and to calculate all anew."""
    workbook = Workbook()
    sheet = workbook.active
    for at in range(1, IN_OFFICE + 1):
        sheet.append([100 + at / 100, 15.5, 100, None, formula.format(at)])
    path, last = folder / "calls.xlsx", Address(sheet.title, IN_OFFICE, 5)
    tank, litres = Address(sheet.title, 1, 6), count(200)
    sheet["F1"] = next(litres)
    workbook.save(path)
    times = {"open": seconds(lambda: office.open(path).close())}
    with office.open(path) as session:
        found = session.calculate({}, [last])[last]
        assert isinstance(found, float)
        assert isclose(found, (100 + IN_OFFICE / 100) * 100 * 200 / 155), found
        times["set one"] = seconds(lambda: session.calculate({tank: next(litres)}, [last]))
        times["calculate"] = seconds(lambda: session.calculate({tank: 200}, [last]))
    return times


def lambda_names() -> None:
    """A sheet of calls, as native formulas and through the LAMBDA name, in IronCalc."""
    record = catalogue()["STOCKMASS"]
    native = formula_text(read_call(record.function, [Ref(f"{c}{{row}}") for c in "BCDE"], {}))
    call = f"{record.sheet_name}(B{{row}},C{{row}},D{{row}},E{{row}})"
    ours, peer = (seconds_a_call(text, record.example[0]) for text in (native, call))
    row("a native formula in IronCalc, against its LAMBDA name", ours, peer, 5)


def seconds_a_call(text: str, arguments: Sequence[float]) -> float:
    """Mean time of one cell in a sheet of many, the names being in the file."""
    workbook = Workbook()
    for number in range(1, CALLS + 1):
        workbook.active.append([f"={text.format(row=number)}", *arguments])
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "calls.xlsx"
        workbook.save(path)
        target = write_functions(path).target
        title = workbook.active.title
        first, last = Address(title, 1, 2), Address(title, CALLS, 1)
        with engine("ironcalc").open(target) as session:
            session.calculate({}, [last])
            return seconds(lambda: session.calculate({first: 151.0}, [last])) / CALLS


def xlwings_columns() -> None:
    """A column in one call and cell by cell, through xlwings' Windows code with stand-ins.

    The way between Excel and Python is not in it; in Excel each call pays that as well.
    """
    with tempfile.TemporaryDirectory() as folder:
        write_project(Path(folder))
        done = subprocess.run(
            [sys.executable, UDF_RUNS, folder],
            input=json.dumps([{"do": "time", "count": 10_000}]),
            capture_output=True,
            check=True,
            text=True,
        )
    (timed,) = json.loads(done.stdout)
    what = "10,000 rows through xlwings in one call, against cells"
    row(what, timed["column"], timed["cells"], 15)


def seconds(work: Callable[[], object]) -> float:
    """The best of three, which is the least disturbed by the machine."""
    return min(timed(work) for _ in range(3))


if __name__ == "__main__":
    main()
