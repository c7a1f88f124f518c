"""What ``import tanksheet`` hands to Python: functions that take columns, and open workbooks.

``functions`` makes ``tanksheet.stock_mass`` out of a calculation, ``columns`` takes lists, arrays
and data frames, ``quantities`` takes pint's quantities, ``help_text`` writes what ``help()``
shows, ``stub`` writes the types for editors, ``workbook`` opens a workbook for many questions.
Only what a call needs is loaded.
"""
