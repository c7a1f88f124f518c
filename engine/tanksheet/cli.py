"""The command line: thin, one function a command. Problems end in one line and exit code 2."""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from tanksheet.definition import Calculation, catalogue
from tanksheet.errors import SheetError, TanksheetError, WorkbookProblem


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs a command. Returns 0, or 1 when a workbook is not confirmed, or 2 for bad input."""
    options = _parser().parse_args(arguments)
    try:
        code: int = options.command(options)
        return code
    except TanksheetError as problem:
        for line in str(problem).splitlines():
            print(f"tanksheet: {line}", file=sys.stderr)
    except OSError as problem:
        where = f"{problem.filename}: " if problem.filename else ""
        print(f"tanksheet: {where}{problem.strerror or problem}", file=sys.stderr)
    return 2


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tanksheet", description="Fertigation calculations for Python and for spreadsheets."
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    _add_list(commands)
    _add_make(commands)
    _add_run(commands)
    _add_verify(commands)
    _add_calc(commands)
    _add_addin(commands)
    return parser


def _add_list(commands: Any) -> None:
    command = commands.add_parser("list", help="show the workbooks and the functions")
    command.add_argument("--json", action="store_true", help="for programs")
    command.add_argument("--page", type=Path, metavar="FILE", help="write the function reference")
    command.set_defaults(command=list_all)


def _add_make(commands: Any) -> None:
    command = commands.add_parser("make", help="write workbooks")
    command.add_argument("names", nargs="*", metavar="WORKBOOK", help="see 'tanksheet list'")
    command.add_argument("--all", action="store_true", help="every workbook")
    command.add_argument("--out", type=Path, default=Path(), metavar="FOLDER")
    command.add_argument("--force", action="store_true", help="replace files that are there")
    command.add_argument("--preview", action="store_true", help="and a picture of each")
    command.set_defaults(command=make)


def _add_run(commands: Any) -> None:
    command = commands.add_parser("run", help="use a workbook as a function")
    command.add_argument("file", type=Path)
    command.add_argument("--set", action="append", default=[], metavar='NAME="150 ppm"')
    command.add_argument("--get", action="append", default=[], metavar="NAME")
    command.add_argument("--engine", default="ironcalc")
    command.add_argument("--json", action="store_true", help="for programs")
    command.set_defaults(command=run)


def _add_verify(commands: Any) -> None:
    command = commands.add_parser("verify", help="compare workbooks with the engine")
    command.add_argument("file", nargs="?", type=Path)
    command.add_argument("--all", action="store_true", help="every workbook, freshly made")
    command.add_argument("--cases", type=_count, default=200, help="random cases, fast engine")
    command.add_argument("--engines", default="", help="names with commas between; else all")
    command.add_argument("--seed", type=int, default=1)
    command.add_argument("--no-edges", action="store_true", help="leave out the bad entries")
    command.set_defaults(command=verify)


def _add_calc(commands: Any) -> None:
    command = commands.add_parser("calc", help="evaluate one formula")
    command.add_argument("formula", help="'=FERT.STOCKMASS(150,15.5,100,200)'")
    command.add_argument("--host", default="python")
    command.set_defaults(command=calc)


def _add_addin(commands: Any) -> None:
    command = commands.add_parser("addin", help="the functions in people's own spreadsheets")
    programs = command.add_subparsers(required=True, metavar="PROGRAM")
    _add_lambda(programs)
    _add_libreoffice(programs)
    _add_xlwings(programs)


def _add_lambda(programs: Any) -> None:
    command = programs.add_parser("lambda", help="Excel 2024 or 365 with nothing installed")
    command.add_argument(
        "--into", type=Path, metavar="FILE", help="a copy of this workbook; else a new workbook"
    )
    command.add_argument(
        "--out", type=Path, metavar="FILE", help="else FILE-with-fert, or fert-functions.xlsx"
    )
    command.add_argument("--force", action="store_true", help="replace the file that is there")
    command.set_defaults(command=addin_lambda)


def _add_xlwings(programs: Any) -> None:
    command = programs.add_parser("xlwings", help="Excel with Python: whole columns in one call")
    command.add_argument("--out", type=Path, default=Path("fert-xlwings"), metavar="FOLDER")
    command.set_defaults(command=addin_xlwings)


def _add_libreoffice(programs: Any) -> None:
    command = programs.add_parser("libreoffice", help="an extension, for all your sheets")
    choice = command.add_mutually_exclusive_group()
    choice.add_argument("--out", type=Path, metavar="FILE", help="only write the .oxt file")
    choice.add_argument("--uninstall", action="store_true", help="remove the extension")
    command.add_argument("--force", action="store_true", help="replace the file that is there")
    command.set_defaults(command=addin_libreoffice)


def _count(text: str) -> int:
    if not text.isdecimal():
        raise argparse.ArgumentTypeError(f"{text!r} is no count; write 0 or more")
    return int(text)


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
        f"{name} [{entry.unit.symbol or 'number'}]"
        for name, entry in calculation.parameters.items()
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
                "unit": entry.unit.symbol,
                "meaning": entry.meaning,
                "allowed": entry.allowed,
            }
            for name, entry in calculation.parameters.items()
        ],
        "unit": calculation.unit.symbol,
        "example": {"arguments": arguments, "result": result},
        "source": calculation.source,
        "python": f"{calculation.body.__module__}.{calculation.body.__name__}",
    }


def make(options: argparse.Namespace) -> int:
    from tanksheet.sheets.package import replace_file
    from tanksheet.sheets.preview import write_preview
    from tanksheet.sheets.writer import workbook_bytes
    from tanksheet.templates import TEMPLATES, book

    names = list(TEMPLATES) if options.all else options.names
    if not names:
        raise WorkbookProblem(f"name a workbook or say --all; there are: {', '.join(TEMPLATES)}")
    plans = {options.out / f"{name}.xlsx": book(name) for name in names}
    for target in plans:
        if target.exists() and not options.force:
            raise WorkbookProblem(f"{target} is there already; say --force to replace it")
    for target, plan in plans.items():
        replace_file(target, workbook_bytes(plan))
        print(f"wrote {target}")
        if options.preview:
            write_preview(target, target.with_suffix(".png"))
            print(f"wrote {target.with_suffix('.png')}")
    return 0


def run(options: argparse.Namespace) -> int:
    from tanksheet.sheets.run import run as run_file
    from tanksheet.templates import book_of

    settings = dict(_setting(text) for text in options.set)
    plan = book_of(options.file)
    values = run_file(options.file, plan, settings, options.get, options.engine)
    if options.json:
        print(json.dumps(values, indent=2))
        return 0
    for name, value in values.items():
        print(f"{name} = {_shown(value)}")
    return 0


def _setting(text: str) -> tuple[str, str]:
    name, sign, value = text.partition("=")
    if not sign:
        raise WorkbookProblem(f"--set {text!r}: write name=value")
    return name.strip(), value


def _shown(value: Any) -> str:
    if isinstance(value, list):
        return "; ".join(_shown(each) for each in value)
    return f"{value:.10g}" if isinstance(value, float) else "" if value is None else str(value)


def verify(options: argparse.Namespace) -> int:
    from tanksheet.templates import TEMPLATES, book, book_of

    if options.all:
        with tempfile.TemporaryDirectory() as folder:
            made = argparse.Namespace(
                all=True, names=[], out=Path(folder), force=True, preview=False
            )
            make(made)
            plans = [(Path(folder) / f"{name}.xlsx", book(name)) for name in TEMPLATES]
            return max(_verified(path, plan, options) for path, plan in plans)
    if options.file is None:
        raise WorkbookProblem("name a workbook file or say --all")
    plan = book_of(options.file)
    if plan is None:
        raise WorkbookProblem(
            f"{options.file} is not a Tanksheet workbook; nothing to compare with"
        )
    return _verified(options.file, plan, options)


def _verified(path: Path, plan: Any, options: argparse.Namespace) -> int:
    from tanksheet.recalc import ENGINES, engine, listing, named_cells, table
    from tanksheet.recalc.compare import AGREES, NOT_RUN
    from tanksheet.sheets.verify import closing_line
    from tanksheet.sheets.verify import verify as verify_file

    names = [n.strip() for n in options.engines.split(",") if n.strip()] or list(ENGINES)
    for name in names:
        engine(name)
    runs = verify_file(path, plan, names, options.cases, options.seed, not options.no_edges)
    print(f"\n{plan.title}\n{table(runs)}")
    for each in runs:
        if each.misses:
            print(listing(each, named_cells(path)))
    print(closing_line(runs))
    verdicts = {each.verdict for each in runs}
    return 0 if AGREES in verdicts and verdicts <= {AGREES, NOT_RUN} else 1


def calc(options: argparse.Namespace) -> int:
    from tanksheet.hosts.expression import evaluate

    value = evaluate(options.formula, options.host)
    print(value if isinstance(value, (str, SheetError)) else f"{value:.12g}")
    return 0


def addin_lambda(options: argparse.Namespace) -> int:
    from tanksheet.hosts.lambda_names import write_functions

    report = write_functions(options.into, options.out, options.force)
    if not report.changed:
        print(f"the functions were up to date in {options.into}")
    print(f"wrote {report.target}: {len(catalogue())} functions, data on sheet {report.sheet!r}")
    for note in report.notes:
        print(f"  {note}")
    return 0


def addin_xlwings(options: argparse.Namespace) -> int:
    from tanksheet.hosts.xlwings_project import write_project

    for path in write_project(options.out):
        print(f"wrote {path}")
    return 0


def addin_libreoffice(options: argparse.Namespace) -> int:
    from tanksheet.hosts import libreoffice_extension, libreoffice_install
    from tanksheet.sheets.package import replace_file

    if options.out:
        if options.out.exists() and not options.force:
            raise WorkbookProblem(f"{options.out} is there already; say --force to replace it")
        replace_file(options.out, libreoffice_extension.extension_bytes())
        print(f"wrote {options.out}")
        return 0
    work = libreoffice_install.uninstall if options.uninstall else libreoffice_install.install
    print(work())
    return 0


if __name__ == "__main__":
    sys.exit(main())
