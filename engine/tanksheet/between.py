"""Commands on workbook files: what one holds, what goes from one into another, what differs."""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tanksheet import commands
from tanksheet.errors import WorkbookProblem

if TYPE_CHECKING:
    from tanksheet.sheets.carry import Carriage


def list_file(options: argparse.Namespace) -> int:
    """``list FILE``: its inputs and results, with what stands in them now."""
    from tanksheet.recalc import engine
    from tanksheet.recalc.adapter import COMMAND_SECONDS
    from tanksheet.recalc.opendocument import as_xlsx

    until = time.monotonic() + COMMAND_SECONDS
    able = engine(options.engine)
    with as_xlsx(options.file) as path, able.begin(path, until) as session:
        from tanksheet.sheets.contents import as_data, as_lines, contents
        from tanksheet.templates import book_of

        plan = book_of(session.package)
        found = contents(session, plan, {})
        commands.say_of_copies(session.package, plan)
    for line in found.present.bad.values():
        print(f"tanksheet: {line}", file=sys.stderr)
    print(json.dumps(as_data(found), indent=2) if options.json else "\n".join(as_lines(found)))
    return 0


def carry(options: argparse.Namespace) -> int:
    """``run FILE --into OTHER``: writes a copy of the other workbook, and says what went there."""
    from tanksheet.recalc import engine
    from tanksheet.recalc.adapter import COMMAND_SECONDS
    from tanksheet.recalc.opendocument import as_xlsx
    from tanksheet.xlsx.writing import replace_file

    into, until = options.into, time.monotonic() + 2 * COMMAND_SECONDS  # two workbooks
    if options.get:
        raise WorkbookProblem("--get reads a workbook and --into carries from it; say one of them")
    out = options.out or into.with_name(f"{into.stem}-with-{options.file.stem}{into.suffix}")
    refuse_target(out, (options.file, into), options.force)
    able, settings = engine(options.engine), commands.settings_of(options)
    with (
        as_xlsx(options.file) as path,
        able.begin(path, until) as session,
        able.begin(_plain_file(into), until) as other,
    ):
        carriage, content = _carried(session, other, into, settings)
    replace_file(out, content)
    _report(carriage, out, options.json)
    return 0


def _carried(session: Any, other: Any, into: Path, settings: dict[str, str]) -> tuple[Any, bytes]:
    from tanksheet.sheets.carry import carry
    from tanksheet.sheets.contents import contents
    from tanksheet.sheets.refreshed import refreshed_in
    from tanksheet.sheets.settings import understood
    from tanksheet.templates import book_of
    from tanksheet.templates.carrying import MEANINGS, acid_of

    plan = book_of(session.package)
    source = contents(session, plan, settings)
    source.present.refuse_bad()
    target = contents(other, book_of(other.package), {})
    for line in understood(session.package, plan, settings):
        print(f"set {line}", file=sys.stderr)
    commands.say_of_copies(session.package, plan)
    commands.say_of_copies(other.package, target.present.target.book)
    carriage = carry(source, target, MEANINGS, acid_of(session, settings))
    if not carriage.carried:
        why = "".join(f"; {line}" for line in carriage.left[:3])
        raise WorkbookProblem(
            f"{session.package.file} has nothing for {into.name}; nothing was written{why}"
        )
    return carriage, refreshed_in(other, into, carriage.cells)


def _plain_file(into: Path) -> Path:
    from tanksheet.xlsx.user_package import KINDS

    if into.exists() and into.suffix.lower() not in KINDS:
        raise WorkbookProblem(f"{into.name}: only .xlsx and .xlsm files can be filled; save it so")
    return into


def _report(carriage: Carriage, out: Path, as_json: bool) -> None:
    if as_json:
        carried = [
            {"from": each.source, "to": each.name, "value": each.value, "unit": each.unit}
            for each in carriage.carried
        ]
        data = {"wrote": str(out), "carried": carried, "left": carriage.left}
        print(json.dumps(data, indent=2))
        return
    print(f"wrote {out}")
    for item in carriage.carried:
        print(f"  {item}")
    for line in carriage.left:
        print(f"  {line}")


def refuse_target(out: Path, sources: Sequence[Path], force: bool) -> None:
    """Raises WorkbookProblem where writing would cost somebody a file."""
    if any(out.resolve() == each.resolve() for each in sources):
        raise WorkbookProblem(f"{out} is one of the files that are read; give another --out")
    if out.exists() and not force:
        raise WorkbookProblem(f"{out} is there already; say --force to replace it, or give --out")


def compare(options: argparse.Namespace) -> int:
    """What differs between files of one workbook, side by side."""
    from tanksheet.sheets.compare import as_data, as_lines, comparison
    from tanksheet.sheets.contents import files_apart

    if len(options.files) < 2:
        raise WorkbookProblem("name two workbook files or more")
    if options.out:
        refuse_target(options.out, options.files, options.force)
    called = files_apart(options.files)
    found = comparison([_contents(file, options.engine) for file in options.files], called)
    if options.out:
        from tanksheet.sheets.comparison_book import comparison_bytes
        from tanksheet.xlsx.writing import replace_file

        replace_file(options.out, comparison_bytes(found))
        print(f"wrote {options.out}", file=sys.stderr if options.json else sys.stdout)
    print(json.dumps(as_data(found), indent=2) if options.json else "\n".join(as_lines(found)))
    return 0


def _contents(file: Path, engine_name: str) -> Any:
    from tanksheet.recalc import engine
    from tanksheet.recalc.adapter import COMMAND_SECONDS
    from tanksheet.recalc.opendocument import as_xlsx

    until = time.monotonic() + COMMAND_SECONDS
    with as_xlsx(file) as path, engine(engine_name).begin(path, until) as session:
        from tanksheet.sheets.contents import contents
        from tanksheet.templates import book_of

        plan = book_of(session.package)
        found = contents(session, plan, {})
        found.present.refuse_bad()
        commands.say_of_copies(session.package, plan)
        return found
