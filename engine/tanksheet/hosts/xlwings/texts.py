"""The fixed words of the xlwings project's three files; ``xlwings_project`` fills them in."""

from __future__ import annotations

MODULE = "fert_functions"
# xlwings' documentation, "Add-in and settings" and "User defined functions".
TRUST = (
    "For xlwings, Excel must allow the workbook's macros (press Enable Content when it asks), "
    'Import Functions needs "Trust access to the VBA project object model" ticked (File, Options, '
    "Trust Center, Trust Center Settings, Macro Settings), and the box Interpreter on the xlwings "
    "ribbon holds the path of the python.exe that has Tanksheet."
)

PYTHON = '''\
"""Fertigation functions for Excel. {mark}: run it again after an update."""

import sys

import xlwings as xw

from tanksheet.errors import TanksheetError
from tanksheet.hosts.xlwings.functions import AS_ROWS, answer, fill

CATEGORY = "Tanksheet"


{functions}


def main():
    if len(sys.argv) != 4:
        sys.exit("write: python fert_functions.py FUNCTION BLOCK FIRST_CELL, see README.txt")
    try:
        print(fill(xw.sheets.active, *sys.argv[1:]), "cells filled")
    except TanksheetError as problem:
        sys.exit(str(problem))


if __name__ == "__main__":
    main()
'''

VBA = """\
Attribute VB_Name = "{module}"
' {mark}: run it again after an update.
Option Explicit

{functions}

' Run this macro once: it gives the function wizard its help texts.
Public Sub FERT_HELP()
{help}
End Sub

Private Sub Explain(ByVal wanted As String, ByVal summary As String, ByVal texts As Variant)
    Application.MacroOptions Macro:=wanted, Description:=summary, Category:="Tanksheet", _
        ArgumentDescriptions:=texts
End Sub

Private Function Answer(ByVal wanted As String, ByVal arguments As Variant) As Variant
    On Error GoTo failed
    Answer = WithErrors(XLPy.CallUDF("{module}", wanted, arguments, ThisWorkbook, _
        Application.Caller))
    Exit Function
failed:
    Answer = Err.Description
End Function

Private Function WithErrors(ByVal result As Variant) As Variant
    Dim row As Long, column As Long, last As Long
    If Not IsArray(result) Then
        WithErrors = CellValue(result)
        Exit Function
    End If
    last = -1
    On Error Resume Next
    last = UBound(result, 2)
    On Error GoTo 0
    For row = LBound(result, 1) To UBound(result, 1)
        If last < 0 Then
            result(row) = CellValue(result(row))
        Else
            For column = LBound(result, 2) To last
                result(row, column) = CellValue(result(row, column))
            Next column
        End If
    Next row
    WithErrors = result
End Function

Private Function CellValue(ByVal found As Variant) As Variant
    CellValue = found
    If VarType(found) <> vbString Then Exit Function
    Select Case found
        Case "#NULL!": CellValue = CVErr(2000)
        Case "#DIV/0!": CellValue = CVErr(2007)
        Case "#VALUE!": CellValue = CVErr(2015)
        Case "#REF!": CellValue = CVErr(2023)
        Case "#NAME?": CellValue = CVErr(2029)
        Case "#NUM!": CellValue = CVErr(2036)
        Case "#N/A": CellValue = CVErr(2042)
    End Select
End Function
"""

NOTE = """\
Fertigation functions for Excel through xlwings
{mark}: run it again after an update.

You need this only if you want whole columns worked out by Python in one call. For single cells
the LAMBDA names of 'tanksheet addin lambda' need nothing installed.

Windows
-------
1. Install Python 3.11 or newer. Open a command prompt in the folder of Tanksheet and type
       pip install ".[excel]"
       xlwings addin install
2. In Excel make a new workbook and save it in the folder of this note, as a macro-enabled
   workbook (.xlsm). Its name does not matter.
3. Press Alt+F11. In the editor choose Tools, References, and tick xlwings. Then choose File,
   Import File, and take {module}.bas. Close the editor and save.
4. {trust}
   "where python" in the command prompt tells that path.
5. Type in a cell
       =FERT_STOCKMASS(150,15.5,100,200)
   It shows 19354.8387 (grams). The first call takes some seconds: Python starts.
6. Once, press Alt+F8 and run FERT_HELP: the function wizard then explains every function.

Whole columns: =FERT_STOCKMASS(A2:A500,15.5,B2:B500,200) fills 499 cells from one call. In an
Excel without spilling, select the cells first and end with Ctrl+Shift+Enter. A column and a row
together make a table. A bad row shows its own error and leaves the others alone.

The ribbon button "Import Functions" works too, instead of step 3's import: set "UDF Modules" to
{module}. A bad row then shows the words #NUM! or #VALUE! as text, not as an error. Do not use
both in one workbook: Excel refuses two functions of one name.

If a cell shows a long text, read its last line: it says what Python missed.

macOS
-----
xlwings brings no functions into cells on a Mac. Use the LAMBDA names, or fill a column: install
Python as above, open your workbook in Excel, and type in a terminal, in the folder of this note,
       python {module}.py FERT_STOCKMASS A2:D500 F2
Columns A to D of the sheet in front are the four arguments in order; the results go to F2 and
down, as values. Run it again when the entries change. This works on Windows as well.

The functions
-------------
Their names have an underscore where other programs have a dot.

{names}
"""
