"""What the commands that reckon in money do: solve and batch."""

from __future__ import annotations

import argparse
import contextlib
import gc
import json
import sys
from collections.abc import Iterator
from typing import Any

from tanksheet.errors import WorkbookProblem


def solve(options: argparse.Namespace) -> int:
    """0 with an answer, also that there is no recipe; 1 if the workbook says stop to it."""
    if options.out and options.out.exists() and not options.force:
        raise WorkbookProblem(f"{options.out} is there already; say --force to replace it")
    if options.file.suffix.lower() == ".json":
        return _solve_problems(options)
    return _solve_workbook(options)


def _solve_problems(options: argparse.Namespace) -> int:
    from tanksheet.recipes import least_cost, read_problems, report
    from tanksheet.xlsx.writing import replace_file

    problems = read_problems(options.file)
    found = {name: least_cost(blend) for name, blend in problems}
    told: Any = [{"id": name, **each.as_json()} for name, each in found.items()]
    text = json.dumps(told[0] if len(told) == 1 else {"problems": told}, indent=2)
    if options.out:
        replace_file(options.out, f"{text}\n".encode())
    if options.json:
        print(text)
        return 0
    for name, each in found.items():
        print(f"{name}: " + "\n".join(report.lines(each)))
    return 0


def _solve_workbook(options: argparse.Namespace) -> int:
    from tanksheet.recalc import engine
    from tanksheet.recalc.opendocument import as_xlsx
    from tanksheet.recipes import report, season, workbook
    from tanksheet.recipes.price_list import read_prices
    from tanksheet.recipes.wanted import target_of
    from tanksheet.templates import book_of
    from tanksheet.xlsx.writing import replace_file

    wish = workbook.Wish(
        read_prices(options.prices) if options.prices else {},
        tuple(target_of(text) for text in options.target),
        options.within,
        options.most_products,
        options.least,
        options.step,
        options.tanks,
        options.whole_packs,
    )
    with as_xlsx(options.file) as path, engine(options.engine).open(path) as session:
        plan = book_of(session.package)
        solved: season.SolvedSeason | workbook.Solved
        if plan and plan.name == "season":
            solved = season.solve_season(session, plan, wish)
        else:
            solved = workbook.solve(session, plan, wish)
        if plan and options.out and solved.settings:
            replace_file(options.out, workbook.written(session, path, plan, solved.settings))
            print(f"wrote {options.out}", file=sys.stderr)
    for name, words in solved.stops.items():
        print(f"the workbook says of {name}: {words}", file=sys.stderr)
    if options.json:
        print(json.dumps(report.of_workbook(solved), indent=2))
    else:
        print("\n".join(report.lines(solved.solution)))
    return 1 if solved.stops else 0


@contextlib.contextmanager
def _no_search_for_cycles() -> Iterator[None]:
    """A batch makes many objects and next to no cycles of them; to look for these takes a tenth of
    its time, at the end of the program too."""
    enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        if enabled:
            gc.enable()


def batch(options: argparse.Namespace) -> int:
    if options.demo:
        from tanksheet.batch.demo import write_demo

        for path in write_demo(options.folder):
            print(f"wrote {path}")
        return 0
    if options.out is None:
        raise WorkbookProblem("say --out FOLDER, where the statements and the order go")
    with _no_search_for_cycles():
        from tanksheet.batch.coop import price_coop
        from tanksheet.batch.outputs import FILES, said

        done = price_coop(
            options.folder,
            options.out,
            pool=options.pool,
            scenario=options.scenario,
            cluster=options.cluster,
        )
    if options.json:
        print(json.dumps(done.described(), indent=2))
        return 0
    for line in said(done):
        print(line)
    for name in FILES:
        print(f"wrote {options.out / name}")
    return 0
