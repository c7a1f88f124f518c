"""What each command of the command line does: it returns the exit code and prints the rest."""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from tanksheet.definition import Calculation, catalogue
from tanksheet.errors import SheetError, WorkbookProblem


def list_all(options: argparse.Namespace) -> int:
    from tanksheet.hosts.reference_page import write_page
    from tanksheet.templates import TEMPLATES, book

    if options.page:
        return write_page(options.page)
    books = [book(name) for name in TEMPLATES]
    if options.json:
        functions = [_described(each) for each in catalogue().values()]
        shown = [{"name": b.name, "title": b.title, "purpose": b.purpose} for b in books]
        print(json.dumps({"workbooks": shown, "functions": functions}, indent=2))
        return 0
    print("Workbooks")
    for each in books:
        print(f"  {each.name:14} {each.purpose}")
    print("\nFunctions")
    for calculation in catalogue().values():
        print(f"  {_signature(calculation)}\n      {calculation.summary}")
    return 0


def _signature(calculation: Calculation) -> str:
    arguments = ", ".join(
        f"{name} [{quantity.unit.symbol or 'number'}]"
        for name, quantity in calculation.parameters.items()
    )
    return f"{calculation.sheet_name}({arguments}) -> {calculation.unit.symbol or 'number'}"


def _described(calculation: Calculation) -> dict[str, Any]:
    arguments, result = calculation.example
    return {
        "name": calculation.sheet_name,
        "summary": calculation.summary,
        "arguments": [
            {
                "name": name,
                "unit": quantity.unit.symbol,
                "meaning": quantity.meaning,
                "allowed": quantity.allowed,
            }
            for name, quantity in calculation.parameters.items()
        ],
        "unit": calculation.unit.symbol,
        "example": {"arguments": arguments, "result": result},
        "source": calculation.source,
        "python": f"tanksheet.{calculation.body.__name__}",
    }


def make(options: argparse.Namespace) -> int:
    from tanksheet.sheets.preview import write_preview
    from tanksheet.sheets.refreshed import recalculated
    from tanksheet.sheets.writer import workbook_bytes
    from tanksheet.templates import TEMPLATES, book
    from tanksheet.templates.blanks import blank_book
    from tanksheet.xlsx.writing import replace_file

    names = list(TEMPLATES) if options.all else options.names
    if not names:
        raise WorkbookProblem(f"name a workbook or say --all; there are: {', '.join(TEMPLATES)}")
    plan_of = blank_book if options.blank else book
    plans = {options.out / f"{name}.xlsx": plan_of(name, options.edition) for name in names}
    for target in plans:
        if target.exists() and not options.force:
            raise WorkbookProblem(f"{target} is there already; say --force to replace it")
    options.out.mkdir(parents=True, exist_ok=True)
    for target, plan in plans.items():
        content = workbook_bytes(plan)
        replace_file(target, recalculated(content) if options.blank else content)
        print(f"wrote {target}")
        if options.preview:
            write_preview(target, target.with_suffix(".png"))
            print(f"wrote {target.with_suffix('.png')}")
    return 0


def run(options: argparse.Namespace) -> int:
    if options.out or options.force:
        raise WorkbookProblem("--out and --force go with --into, the workbook to carry values into")
    from tanksheet.recalc import engine
    from tanksheet.recalc.adapter import COMMAND_SECONDS
    from tanksheet.recalc.opendocument import as_xlsx

    until = time.monotonic() + COMMAND_SECONDS
    settings = settings_of(options)
    able = engine(options.engine)
    with as_xlsx(options.file) as path, able.begin(path, until) as session:
        # The engine loads the file while the plan behind it is made here.
        from tanksheet.sheets.run import dates_spelled, run_in
        from tanksheet.sheets.settings import understood
        from tanksheet.templates import book_of

        plan = book_of(session.package)
        values = dates_spelled(plan, run_in(session, plan, settings, options.get))
        # Beside the results, which a program may read.
        say_of_copies(session.package, plan)
        for line in understood(session.package, plan, settings):
            print(f"set {line}", file=sys.stderr)
    if options.json:
        print(json.dumps(values, indent=2))
        return 0
    for name, value in values.items():
        print(f"{name} = {_printed(value)}")
    return 0


def settings_of(options: argparse.Namespace) -> dict[str, str]:
    """What --set asks for. Raises: WorkbookProblem for one without "="."""
    return dict(_setting(text) for text in options.set)


def _setting(text: str) -> tuple[str, str]:
    name, sign, value = text.partition("=")
    if not sign:
        raise WorkbookProblem(f"--set {text!r}: write name=value")
    return name.strip(), value


def _printed(value: Any) -> str:
    if isinstance(value, list):
        return "; ".join(_printed(each) for each in value)
    return f"{value:.10g}" if isinstance(value, float) else "" if value is None else str(value)


def verify(options: argparse.Namespace) -> int:
    from tanksheet.recalc.opendocument import as_xlsx
    from tanksheet.templates import TEMPLATES, book, book_of

    if options.all:
        with tempfile.TemporaryDirectory() as folder:
            made = argparse.Namespace(
                all=True, names=[], out=Path(folder), force=True, preview=False, blank=False
            )
            make(made)
            plans = [(Path(folder) / f"{name}.xlsx", book(name)) for name in TEMPLATES]
            return max(_verified(path, plan, options) for path, plan in plans)
    if options.file is None:
        raise WorkbookProblem("name a workbook file or say --all")
    with as_xlsx(options.file) as path:
        plan = book_of(path)
        if plan is None:
            raise WorkbookProblem(
                f"{options.file} is not a Tanksheet workbook; nothing to compare with"
            )
        return _verified(path, plan, options)


def _verified(path: Path, plan: Any, options: argparse.Namespace) -> int:
    from tanksheet.recalc import ENGINES, engine, listing, table
    from tanksheet.recalc.compare import AGREES, NOT_RUN
    from tanksheet.sheets.integrity import lost_lines
    from tanksheet.sheets.verify import closing_line
    from tanksheet.sheets.verify import verify as verify_file
    from tanksheet.xlsx.reading import Package

    names = [n.strip() for n in options.engines.split(",") if n.strip()] or list(ENGINES)
    for name in names:
        engine(name)
    seconds = options.seconds or None
    edges = not options.no_edges
    package = Package(path)
    lost = lost_lines(package, plan)
    print("\n".join(lost), end="\n" if lost else "")
    say_of_copies(package, plan)
    runs = verify_file(path, plan, names, options.cases, options.seed, edges, seconds)
    print(f"\n{plan.title}\n{table(runs)}")
    for each in runs:
        if each.misses:
            print(listing(each, package.names | package.hidden_names))
    print(closing_line(runs))
    verdicts = {each.verdict for each in runs}
    return 0 if AGREES in verdicts and verdicts <= {AGREES, NOT_RUN} and not lost else 1


def say_of_copies(package: Any, plan: Any) -> None:
    """Says on the error stream that copied sheets are not read."""
    from tanksheet.sheets.integrity import copies_line

    line = copies_line(package, plan) if plan else ""
    if line:
        print(f"tanksheet: {line}", file=sys.stderr)


def calc(options: argparse.Namespace) -> int:
    from tanksheet.expression import evaluate

    value = evaluate(options.formula, options.host)
    if options.json:
        print(json.dumps({"formula": options.formula, "host": options.host, "value": value}))
        return 0
    print(value if isinstance(value, (str, SheetError)) else f"{value:.12g}")
    return 0


def addin_lambda(options: argparse.Namespace) -> int:
    from tanksheet.formula import named_calculations
    from tanksheet.hosts.lambdas.names import write_functions

    report = write_functions(options.into, options.out, options.force)
    if not report.changed:
        print(f"the functions were up to date in {options.into}")
    count = len(named_calculations())
    print(f"wrote {report.target}: {count} functions, data on sheet {report.sheet!r}")
    for note in report.notes:
        print(f"  {note}")
    return 0


def addin_xlwings(options: argparse.Namespace) -> int:
    from tanksheet.hosts.xlwings.project import write_project

    for path in write_project(options.out):
        print(f"wrote {path}")
    return 0


def addin_libreoffice(options: argparse.Namespace) -> int:
    from tanksheet.hosts.libreoffice import extension, install
    from tanksheet.xlsx.writing import replace_file

    if options.out:
        if options.out.exists() and not options.force:
            raise WorkbookProblem(f"{options.out} is there already; say --force to replace it")
        replace_file(options.out, extension.extension_bytes())
        print(f"wrote {options.out}")
        return 0
    work = install.uninstall if options.uninstall else install.install
    for line in work():
        print(line, flush=True)
    return 0
