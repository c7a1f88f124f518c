"""Puts into a copy of a workbook what the format lets out and an engine cannot do without."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

from tanksheet.xlsx.markup import Edit, as_utf8, edited, tags
from tanksheet.xlsx.placing import copy_with
from tanksheet.xlsx.reading import Package

STYLES = "xl/styles.xml"
LARGEST_STYLES = 5_000_000  # bytes; it is read whole
# What stands behind the named styles (ECMA-376 part 1, 18.8.39) comes behind these.
_BEFORE = ("numFmts", "fonts", "fills", "borders", "cellStyleXfs", "cellXfs")


def named_styles_added(path: Path) -> bool:
    """Gives a private copy of a file the style "Normal" if it names none; whether it did.

    Gnumeric leaves the list of named styles out (18.8.8 lets it), and IronCalc breaks down there.
    Raises WorkbookProblem as ``Package`` does.
    """
    package = Package(path)
    if not 0 < package.size(STYLES) <= LARGEST_STYLES:
        return False
    markup = as_utf8(package.read(STYLES), package.file)
    listed = {tag.name: tag for tag in tags(markup, 2) if tag.depth == 2}
    last = [listed[name] for name in _BEFORE if name in listed]
    if "cellStyles" in listed or not last:
        return False
    spelled = last[-1].spelled
    style = f'<{spelled("cellStyle")} name="Normal" xfId="0" builtinId="0"/>'
    text = f'<{spelled("cellStyles")} count="1">{style}</{spelled("cellStyles")}>'
    beside = path.with_name(f"{path.name}.complete")
    try:
        copy_with(
            package,
            beside,
            {STYLES: iter([edited(markup, [Edit(last[-1].end, last[-1].end, text)])])},
        )
        os.replace(beside, path)
    finally:
        with contextlib.suppress(OSError):
            beside.unlink()
    return True
