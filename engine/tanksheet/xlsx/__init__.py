"""The .xlsx file: one guarded reader and one writer for everybody.

``address`` says what a cell and its value are; ``reading`` opens a file that may come from anyone;
``values`` reads and sets single cells; ``writing`` finishes our own files and replaces a file
safely; ``user_package``, ``workbook_part`` and ``markup`` change a user's file byte by byte.
Standard library only; ``address`` also runs at Python 3.9, inside LibreOffice.
"""

from __future__ import annotations
