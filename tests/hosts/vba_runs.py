"""Runs the project's VBA module in LibreOffice's Basic, which knows VBA.

Called as ``python vba_runs.py SOFFICE`` under a Python that has ``uno``; reads JSON: the module's
text, and calls, each with the result that Python is to give. Writes what the functions of the
module then return, error values as "Error 2036". A small class stands in for xlwings' object.
"""

from __future__ import annotations

import importlib.util
import json
import sys
from pathlib import Path
from typing import Any

WORKER = Path(__file__).parents[2] / "engine/tanksheet/recalc/libreoffice_worker.py"
ALWAYS_EXECUTE = 4
CLASS = """\
Option VBASupport 1
Option ClassModule
Public Function CallUDF(project, wanted, arguments, book, caller) As Variant
    If project <> "fert_functions" Then Err.Raise 1000, Description:="no module " & project
    CallUDF = Given(wanted, arguments)
End Function
"""
PROBES = """
Public Function XLPy() As Variant
    Set XLPy = New Py
End Function

Public Function Shown(ByVal found As Variant) As String
    Dim row As Long, column As Long, last As Long
    If Not IsArray(found) Then
        Shown = Kind(found)
        Exit Function
    End If
    last = -1
    On Error Resume Next
    last = UBound(found, 2)
    On Error GoTo 0
    For row = LBound(found, 1) To UBound(found, 1)
        If last < 0 Then
            Shown = Shown & Kind(found(row)) & ","
        Else
            For column = 0 To last
                Shown = Shown & Kind(found(row, column)) & ","
            Next column
        End If
        Shown = Shown & "/"
    Next row
End Function

Private Function Kind(ByVal found As Variant) As String
    If IsError(found) Then
        Kind = CStr(found)
    Else
        Kind = TypeName(found) & " " & CStr(found)
    End If
End Function
"""


def literal(value: Any) -> str:
    if value is None:
        return "Empty"
    return f'"{value}"' if isinstance(value, str) else repr(value)


def given(calls: list[dict[str, Any]]) -> str:
    """The function that stands for Python: a result for each call, by its first argument."""
    lines = ["Public Function Given(ByVal wanted As String, ByVal arguments As Variant) As Variant"]
    lines.append("    Dim cells() As Variant")
    for number, each in enumerate(calls):
        if "result" not in each:
            continue
        lines.append(f"    If arguments(0) = {number} And wanted = {literal(each['name'])} Then")
        lines += [f"        {line}" for line in made(each["result"])]
        lines += ["        Exit Function", "    End If"]
    lines += ['    Err.Raise 1000, Description:="Python is not there"', "End Function"]
    return "\n".join(lines)


def made(result: Any) -> list[str]:
    if not isinstance(result, list):
        return [f"Given = {literal(result)}"]
    if not isinstance(result[0], list):
        cells = [f"cells({at}) = {literal(cell)}" for at, cell in enumerate(result)]
        return [f"ReDim cells({len(result) - 1})", *cells, "Given = cells"]
    lines = [f"ReDim cells({len(result) - 1}, {len(result[0]) - 1})"]
    for row, values in enumerate(result):
        lines += [f"cells({row}, {at}) = {literal(cell)}" for at, cell in enumerate(values)]
    return [*lines, "Given = cells"]


def probe(number: int, each: dict[str, Any]) -> str:
    rest = "".join(f", {literal(value)}" for value in each["rest"])
    return (
        f"Public Function Probe{number}() As String\n"
        f"    Probe{number} = Shown({each['name']}({number}{rest}))\nEnd Function"
    )


def office(soffice: str) -> Any:
    spec = importlib.util.spec_from_file_location("libreoffice_worker", WORKER)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.Office(soffice, 90)


def main() -> None:
    work = json.load(sys.stdin)
    calls = work["calls"]
    # The first line names the module for the VBA editor and is no VBA itself.
    text = work["text"].replace("\r\n", "\n").partition("\n")[2]
    probes = "\n\n".join(probe(*pair) for pair in enumerate(calls))
    running = office(sys.argv[1])
    try:
        print(json.dumps(run(running, f"{text}\n{PROBES}\n{given(calls)}\n\n{probes}", len(calls))))
    finally:
        running.stop()


def run(running: Any, text: str, count: int) -> list[str]:
    settings = []
    for name, value in (("Hidden", True), ("MacroExecutionMode", ALWAYS_EXECUTE)):
        settings.append(running.uno.createUnoStruct("com.sun.star.beans.PropertyValue"))
        settings[-1].Name, settings[-1].Value = name, value
    book = running.desktop.loadComponentFromURL(
        "private:factory/scalc", "_blank", 0, tuple(settings)
    )
    book.BasicLibraries.createLibrary("Standard")
    library = book.BasicLibraries.getByName("Standard")
    library.insertByName("fert_functions", f"Option VBASupport 1\n{text}")
    library.insertByName("Py", CLASS)
    scripts = book.getScriptProvider()
    where = "vnd.sun.star.script:Standard.fert_functions.{}?language=Basic&location=document"
    names = [f"Probe{number}" for number in range(count)]
    return [scripts.getScript(where.format(name)).invoke((), (), ())[0] for name in names]


if __name__ == "__main__":
    main()
