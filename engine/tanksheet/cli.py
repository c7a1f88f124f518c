"""The command line: what may be asked for; ``commands`` does it.

Problems end in one line and exit code 2.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from tanksheet import between, commands, money_commands
from tanksheet.errors import TanksheetError

# What a shell reports of a program that Ctrl-C, or a reader that went away, has ended.
INTERRUPTED, NO_READER = 130, 141


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs a command.

    Returns 0, or 1 when a workbook is not confirmed, 2 for bad input, 130 after Ctrl-C, and 141
    when whatever reads the output has stopped reading, as ``head`` does.
    """
    try:
        return _done(arguments)
    except TanksheetError as problem:
        for line in str(problem).splitlines():
            print(f"tanksheet: {line}", file=sys.stderr)
    except BrokenPipeError:
        _forget_output()
        return NO_READER
    except OSError as problem:
        where = f"{problem.filename}: " if problem.filename else ""
        print(f"tanksheet: {where}{problem.strerror or problem}", file=sys.stderr)
        _forget_output()
    except MemoryError:
        print("tanksheet: this needs more memory than there is", file=sys.stderr)
    except KeyboardInterrupt:
        print("tanksheet: stopped", file=sys.stderr)
        return INTERRUPTED
    return 2


def _done(arguments: Sequence[str] | None) -> int:
    try:
        options = _parser().parse_args(arguments)
        code: int = options.command(options)
        return code
    finally:
        sys.stdout.flush()  # else a full disk or a lost reader shows after this program's last word


def _forget_output() -> None:
    """Lets go of what cannot be written, so that Python does not try again as it ends."""
    try:
        sys.stdout.flush()
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tanksheet", description="Fertigation calculations for Python and for spreadsheets."
    )
    verbs = parser.add_subparsers(required=True, metavar="COMMAND")
    _add_list(verbs)
    _add_make(verbs)
    _add_run(verbs)
    _add_verify(verbs)
    _add_solve(verbs)
    _add_compare(verbs)
    _add_calc(verbs)
    _add_batch(verbs)
    _add_addin(verbs)
    return parser


def _add_list(verbs: Any) -> None:
    command = verbs.add_parser(
        "list", help="show the workbooks and the functions, or what a workbook file holds"
    )
    command.add_argument("file", nargs="?", type=Path, metavar="FILE")
    command.add_argument("--engine", default="ironcalc", help="works out the results of a file")
    command.add_argument("--json", action="store_true", help="for programs")
    command.add_argument("--page", type=Path, metavar="FILE", help="write the function reference")
    command.set_defaults(command=_list)


def _list(options: argparse.Namespace) -> int:
    return between.list_file(options) if options.file else commands.list_all(options)


def _add_make(verbs: Any) -> None:
    command = verbs.add_parser("make", help="write workbooks")
    command.add_argument("names", nargs="*", metavar="WORKBOOK", help="see 'tanksheet list'")
    command.add_argument("--all", action="store_true", help="every workbook")
    command.add_argument(
        "--edition",
        choices=("metric", "us"),
        default="metric",
        help="metric units on A4 paper, or US units on Letter",
    )
    command.add_argument("--blank", action="store_true", help="without the example")
    command.add_argument("--out", type=Path, default=Path(), metavar="FOLDER")
    command.add_argument("--force", action="store_true", help="replace files that are there")
    command.add_argument("--preview", action="store_true", help="and a picture of each")
    command.set_defaults(command=commands.make)


def _add_run(verbs: Any) -> None:
    command = verbs.add_parser("run", help="use a workbook as a function")
    command.add_argument("file", type=Path)
    command.add_argument("--set", action="append", default=[], metavar='NAME="150 ppm"')
    command.add_argument("--get", action="append", default=[], metavar="NAME")
    command.add_argument("--engine", default="ironcalc")
    command.add_argument("--json", action="store_true", help="for programs")
    command.add_argument(
        "--into", type=Path, metavar="FILE", help="carry values into a copy of this workbook"
    )
    command.add_argument(
        "--out", type=Path, metavar="FILE", help="the copy; else FILE-with-<the first file>"
    )
    command.add_argument("--force", action="store_true", help="replace the copy that is there")
    command.set_defaults(command=_run)


def _run(options: argparse.Namespace) -> int:
    return between.carry(options) if options.into else commands.run(options)


def _add_verify(verbs: Any) -> None:
    command = verbs.add_parser("verify", help="compare workbooks with the engine")
    command.add_argument("file", nargs="?", type=Path)
    command.add_argument("--all", action="store_true", help="every workbook, freshly made")
    command.add_argument("--cases", type=_count, default=200, help="random cases, fast engine")
    command.add_argument("--engines", default="", help="names with commas between; else all")
    command.add_argument("--seed", type=int, default=1)
    command.add_argument(
        "--seconds", type=_count, default=50, help="for all engines of a workbook together; 0: any"
    )
    command.add_argument("--no-edges", action="store_true", help="leave out the bad entries")
    command.set_defaults(command=commands.verify)


def _add_solve(verbs: Any) -> None:
    command = verbs.add_parser("solve", help="the cheapest recipe that meets the targets")
    command.add_argument("file", type=Path, help="a recipe or season workbook, or .json")
    command.add_argument("--out", type=Path, metavar="FILE", help="a copy with the solution in it")
    command.add_argument("--force", action="store_true", help="replace the file that is there")
    command.add_argument("--prices", type=Path, metavar="FILE.csv", help="product,price,pack,...")
    command.add_argument("--target", action="append", default=[], metavar='"S<=60"')
    command.add_argument("--within", type=_amount, metavar="PERCENT", help="of the targets")
    command.add_argument("--most-products", type=_count, metavar="COUNT")
    command.add_argument("--tanks", type=int, choices=(1, 2, 3), default=3, help="from A on")
    command.add_argument("--least", type=_amount, default=0.0, metavar="GRAMS", help="weighable")
    command.add_argument("--step", type=_amount, default=0.0, metavar="GRAMS", help="of the scale")
    command.add_argument("--whole-packs", action="store_true", help="no pack is opened")
    command.add_argument("--engine", default="ironcalc")
    command.add_argument("--json", action="store_true", help="for programs")
    command.set_defaults(command=money_commands.solve)


def _add_compare(verbs: Any) -> None:
    command = verbs.add_parser("compare", help="what differs between files of one workbook")
    command.add_argument("files", nargs="+", type=Path, metavar="FILE")
    command.add_argument("--engine", default="ironcalc")
    command.add_argument("--json", action="store_true", help="for programs")
    command.add_argument("--out", type=Path, metavar="FILE", help="a workbook with a chart too")
    command.add_argument("--force", action="store_true", help="replace the file that is there")
    command.set_defaults(command=between.compare)


def _add_calc(verbs: Any) -> None:
    command = verbs.add_parser("calc", help="evaluate one formula")
    command.add_argument("formula", help="'=FERT.STOCKMASS(150,15.5,100,200)'")
    command.add_argument("--host", default="python")
    command.add_argument("--json", action="store_true", help="for programs")
    command.set_defaults(command=commands.calc)


def _add_batch(verbs: Any) -> None:
    command = verbs.add_parser("batch", help="price the programs of a whole co-op")
    command.add_argument(
        "folder",
        type=Path,
        metavar="FOLDER",
        help="members, blocks, products, prices, programs as .csv or .parquet, or a workbook",
    )
    command.add_argument(
        "--out", type=Path, metavar="FOLDER", help="for the statements and the order"
    )
    command.add_argument("--pool", action="store_true", help="round up packs once for the co-op")
    command.add_argument("--scenario", default="", metavar="NAME", help="whose prices")
    command.add_argument(
        "--cluster", default="", metavar="ADDRESS", help="of a Dask scheduler (tanksheet[cluster])"
    )
    command.add_argument("--json", action="store_true", help="for programs")
    command.add_argument(
        "--demo", action="store_true", help="write the tables of an invented co-op to FOLDER"
    )
    command.set_defaults(command=money_commands.batch)


def _add_addin(verbs: Any) -> None:
    command = verbs.add_parser("addin", help="the functions in people's own spreadsheets")
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
    command.set_defaults(command=commands.addin_lambda)


def _add_xlwings(programs: Any) -> None:
    command = programs.add_parser("xlwings", help="Excel with Python: whole columns in one call")
    command.add_argument("--out", type=Path, default=Path("fert-xlwings"), metavar="FOLDER")
    command.set_defaults(command=commands.addin_xlwings)


def _add_libreoffice(programs: Any) -> None:
    command = programs.add_parser("libreoffice", help="an extension, for all your sheets")
    choice = command.add_mutually_exclusive_group()
    choice.add_argument("--out", type=Path, metavar="FILE", help="only write the .oxt file")
    choice.add_argument("--uninstall", action="store_true", help="remove the extension")
    command.add_argument("--force", action="store_true", help="replace the file that is there")
    command.set_defaults(command=commands.addin_libreoffice)


def _amount(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = -1.0
    if not 0 <= value < 1e9:
        raise argparse.ArgumentTypeError(f"{text!r} is no amount; write 0 or more")
    return value


def _count(text: str) -> int:
    if not text.isdecimal():
        raise argparse.ArgumentTypeError(f"{text!r} is no count; write 0 or more")
    return int(text)


if __name__ == "__main__":
    sys.exit(main())
