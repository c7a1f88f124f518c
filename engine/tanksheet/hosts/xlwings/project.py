"""Writes the folder that brings the functions into Excel through xlwings.

Three files: the Python module with xlwings' decorators, a VBA module whose functions call it and
turn error texts into error values, and a note in plain steps. Only the BSD-licensed part of
xlwings is used, and this module does not import it.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tanksheet.definition import catalogue
from tanksheet.errors import WorkbookProblem
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS
from tanksheet.hosts.xlwings.functions import excel_name
from tanksheet.hosts.xlwings.texts import MODULE, NOTE, PYTHON, TRUST, VBA
from tanksheet.units import Quantity
from tanksheet.xlsx.writing import replace_file

MARK = "Written by 'tanksheet addin xlwings'"
LONGEST_HELP = 255  # what Excel's function wizard takes
LONGEST_LINE = 1023  # of VBA
# Words that VBA keeps for itself ([MS-VBAL] 3.3.5.2), in lower case; xlwings keeps "caller".
RESERVED = frozenset(
    """abs address addressof alias and any append array as attribute base binary boolean byref
    byte byval call caller case cbool cbyte ccur cdate cdbl cdec cdecl circle cint class clng
    close compare const csng cstr currency cvar cverr database date debug decimal declare defbool
    defbyte defcur defdate defdbl defdec defint deflng defobj defsng defstr defvar dim do doevents
    double each else elseif empty end endif enum eqv erase error event exit explicit false fix for
    friend function get global gosub goto if imp implements in input inputb int integer is lbound
    len lenb let lib like line lock long longlong longptr loop lset me mid midb mod module new
    next not nothing null object on open option optional or output paramarray preserve print
    private property pset ptrsafe public put raiseevent random read redim rem reset resume return
    rset scale seek select set sgn shared single spc static step stop string sub tab text then to
    true type typeof ubound unload unlock until variant wend while width with withevents write
    xor""".split()
)


@dataclass(frozen=True)
class Listed:
    """A function as the project's files show it."""

    sheet_name: str
    excel_name: str
    help: str
    arguments: dict[str, str]

    @property
    def names(self) -> str:
        return ", ".join(self.arguments)


def listed() -> list[Listed]:
    """Every function of the register, then the table functions.

    Raises: ValueError for an argument that VBA cannot name.
    """
    functions = [
        _listed(each.sheet_name, each.name, each.summary, each.unit.symbol, each.parameters)
        for each in catalogue().values()
    ]
    functions += [
        _listed(each.sheet_name, each.name, each.summary, "", each.arguments)
        for each in TABLE_FUNCTIONS.values()
    ]
    return functions


def _listed(
    sheet_name: str, name: str, summary: str, unit: str, quantities: dict[str, Quantity]
) -> Listed:
    for argument in quantities:
        if argument.lower() in RESERVED:
            raise ValueError(f"{sheet_name}: VBA keeps the word {argument!r} for itself; rename it")
    result = f" Result: {unit}." if unit else ""
    arguments = {argument: _explained(quantity) for argument, quantity in quantities.items()}
    return Listed(sheet_name, excel_name(name), _short(summary + result), arguments)


def _explained(quantity: Quantity) -> str:
    symbol = "" if quantity.is_word or quantity.is_readings else quantity.unit.symbol
    unit = f", {symbol}" if symbol else ""
    return _short(f"{quantity.meaning}{unit}; {quantity.allowed}")


def _short(text: str) -> str:
    return text if len(text) <= LONGEST_HELP else f"{text[: LONGEST_HELP - 3]}..."


def project_files() -> dict[str, str]:
    """The text of each file by its name; lines end in a plain newline."""
    functions = listed()
    python = "\n\n\n".join(_python_function(each) for each in functions)
    vba = "\n\n".join(_vba_function(each) for each in functions)
    explained = "\n".join(line for each in functions for line in _vba_help(each))
    width = max(len(each.sheet_name) for each in functions)
    names = "\n".join(
        f"  {each.sheet_name:{width}}  {each.excel_name}({each.names})" for each in functions
    )
    return {
        f"{MODULE}.py": PYTHON.format(mark=MARK, functions=python),
        f"{MODULE}.bas": VBA.format(mark=MARK, module=MODULE, functions=vba, help=explained),
        "README.txt": NOTE.format(mark=MARK, module=MODULE, names=names, trust=_wrapped(TRUST)),
    }


def _wrapped(text: str) -> str:
    """A sentence as an item of the note's numbered steps."""
    return textwrap.fill(text, 97, subsequent_indent="   ")


def _python_function(each: Listed) -> str:
    arguments = "\n".join(
        f"@xw.arg({argument!r}, doc={text!r}, **AS_ROWS)"
        for argument, text in each.arguments.items()
    )
    call = ", ".join([repr(each.excel_name), *each.arguments])
    return (
        f"@xw.func(category=CATEGORY)\n{arguments}\n"
        f"def {each.excel_name}({each.names}):\n"
        f"    {each.help!r}\n"
        f"    return answer({call})"
    )


def _vba_function(each: Listed) -> str:
    return (
        f"Public Function {each.excel_name}({each.names}) As Variant\n"
        f'    {each.excel_name} = Answer("{each.excel_name}", Array({each.names}))\n'
        "End Function"
    )


def _vba_help(each: Listed) -> Iterator[str]:
    texts = [_vba_text(text) for text in each.arguments.values()]
    yield f'    Explain "{each.excel_name}", {_vba_text(each.help)}, Array( _'
    for text in texts[:-1]:
        yield f"        {text}, _"
    yield f"        {texts[-1]})"


def _vba_text(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


def write_project(folder: Path) -> list[Path]:
    """Writes the project, or brings an earlier one up to date, and returns the files.

    Raises: WorkbookProblem when a file of such a name is there that this command has not written.
    """
    files = {folder / name: text for name, text in project_files().items()}
    for path in files:
        if path.exists() and MARK.encode() not in path.read_bytes():
            raise WorkbookProblem(f"{path} is there and is not ours; name another folder by --out")
    folder.mkdir(parents=True, exist_ok=True)
    for path, text in files.items():
        # VBA takes a module only with Windows line ends; the note is for Windows' editor as well.
        ends = "\n" if path.suffix == ".py" else "\r\n"
        replace_file(path, text.replace("\n", ends).encode("ascii"))
    return list(files)
