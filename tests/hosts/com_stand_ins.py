"""Stand-ins for what Windows and Excel lend to xlwings, so that its own code can run elsewhere.

``install`` puts modules in the place of pywin32 and imports xlwings as on Windows: from then on
``xlwings.func``, ``xlwings.udfs`` and ``xlwings.com_server`` are the real ones. Only xlwings' own
modules are told that this is Windows; the standard library and NumPy, which look at the platform
too and would load what is not there, see the platform that it is. ``Cells`` and ``Workbook``
answer what xlwings asks of Excel's objects, and nothing else. The subpackage of xlwings under
another licence is blocked: nothing may need it.
"""

from __future__ import annotations

import builtins
import ctypes
import importlib.machinery
import sys
import types
from collections.abc import Callable, Sequence
from typing import Any

RANGE_IID = "{00020846-0000-0000-C000-000000000046}"
MODULES = (
    "pythoncom pywintypes win32api win32con win32event win32gui win32process win32timezone "
    "win32com win32com.client win32com.server win32com.server.util win32com.server.policy "
    "win32com.server.dispatcher"
).split()


class ComError(Exception):
    pass


class WindowsSys(types.ModuleType):
    """The module ``sys`` as xlwings sees it: that of this Python, but on Windows."""

    platform = "win32"

    def __getattr__(self, name: str) -> Any:
        return getattr(sys, name)


def import_as_on_windows(name: str, *more: Any, **options: Any) -> Any:
    """What an import statement calls in xlwings' modules."""
    return WINDOWS if name == "sys" else builtins.__import__(name, *more, **options)


WINDOWS = WindowsSys("sys")
BUILTINS = {**vars(builtins), "__import__": import_as_on_windows}


class Loader(importlib.machinery.SourceFileLoader):
    """Runs a module with an import statement of its own."""

    def exec_module(self, module: types.ModuleType) -> None:
        vars(module)["__builtins__"] = BUILTINS
        super().exec_module(module)


class Finder:
    """Finds xlwings' modules, and refuses those that are not under the BSD licence."""

    def find_spec(
        self, name: str, path: Sequence[str] | None = None, target: Any = None
    ) -> importlib.machinery.ModuleSpec | None:
        if name.partition(".")[0] != "xlwings":
            return None
        if name == "xlwings.pro" or name.startswith("xlwings.pro."):
            raise ImportError(f"{name} is blocked")
        spec = importlib.machinery.PathFinder.find_spec(name, path)
        if spec and isinstance(spec.loader, importlib.machinery.SourceFileLoader):
            spec.loader = Loader(spec.loader.name, spec.loader.path)
        return spec


class _Anything:
    """Takes any attribute and any call; for entry points that xlwings fetches while it loads."""

    def __getattr__(self, name: str) -> Any:
        return _Anything()

    def __call__(self, *_: Any) -> Any:
        return _Anything()


def install() -> types.ModuleType:
    """Loads xlwings as on Windows and returns it."""
    made = {name: types.ModuleType(name) for name in MODULES}
    for name, module in made.items():
        parent, _, child = name.rpartition(".")
        if parent:
            setattr(made[parent], child, module)
    _furnish(made)
    sys.modules.update(made)
    sys.meta_path.insert(0, Finder())
    for name in ("oledll", "windll", "PyDLL"):
        setattr(ctypes, name, _Anything())
    import xlwings
    import xlwings.com_server
    import xlwings.udfs

    return xlwings


def _furnish(made: dict[str, types.ModuleType]) -> None:
    com, types_, client = made["pythoncom"], made["pywintypes"], made["win32com.client"]
    com.CoInitialize = lambda: None  # type: ignore[attr-defined]
    com.IID_IDispatch = "IDispatch"  # type: ignore[attr-defined]
    com.TypeIIDs = {"IDispatch": type("PyIDispatch", (), {})}  # type: ignore[attr-defined]
    com.ole_error = com.com_error = ComError  # type: ignore[attr-defined]
    com.__file__ = "pythoncom"
    types_.com_error = types_.error = ComError  # type: ignore[attr-defined]
    types_.TimeType = type("TimeType", (), {})  # type: ignore[attr-defined]
    types_.IID = lambda text: text  # type: ignore[attr-defined]
    for name in ("CDispatch", "DispatchBaseClass", "CoClassBaseClass"):
        setattr(client, name, type(name, (), {}))
    client.Dispatch = client.DispatchEx = lambda found, **_: found  # type: ignore[attr-defined]
    client.gencache = _Anything()  # type: ignore[attr-defined]
    made["win32com.server.util"].unwrap = _not_wrapped  # type: ignore[attr-defined]
    made["win32process"].GetWindowThreadProcessId = lambda _: (0, 1)  # type: ignore[attr-defined]


def _not_wrapped(found: Any) -> Any:
    raise ComError("not one of the server's own objects")


class Cells:
    """A range of cells as Excel lends it: ``Value`` is one value, or a tuple of rows."""

    CLSID = RANGE_IID

    def __init__(self, rows: list[list[Any]], row: int = 1, column: int = 1) -> None:
        self.rows, self.Row, self.Column = rows, row, column
        self.Worksheet = Sheet()
        self.Rows = types.SimpleNamespace(Count=len(rows))
        self.Columns = types.SimpleNamespace(Count=len(rows[0]))
        self.reads = 0

    @property
    def _oleobj_(self) -> Any:
        attributes = types.SimpleNamespace(iid=RANGE_IID)
        info = types.SimpleNamespace(GetTypeAttr=lambda: attributes)
        return types.SimpleNamespace(GetTypeInfo=lambda: info)

    @property
    def Value(self) -> Any:  # noqa: N802
        self.reads += 1
        if len(self.rows) == len(self.rows[0]) == 1:
            return self.rows[0][0]
        return tuple(tuple(row) for row in self.rows)

    def GetAddress(self, *_: Any) -> str:  # noqa: N802
        return f"$A${self.Row}"


class Sheet:
    Name = "Sheet1"

    @property
    def Parent(self) -> Any:  # noqa: N802
        return Workbook()


class Workbook:
    """A macro-enabled workbook that keeps the VBA modules and help texts given to it."""

    Name, Path, FullName = "book.xlsm", "", "book.xlsm"
    Worksheets = ()

    def __init__(self) -> None:
        self.modules: list[str] = []
        self.helps: dict[str, dict[str, Any]] = {}
        self.Application = types.SimpleNamespace(
            Hwnd=1, Version="16.0", MacroOptions=self._help, Ready=True
        )
        self.VBProject = types.SimpleNamespace(VBComponents=_Components(self.modules.append))

    def _help(self, macro: str, **options: Any) -> None:
        self.helps[macro.rpartition("!")[2]] = options


class _Components:
    def __init__(self, keep: Callable[[str], None]) -> None:
        self.keep = keep

    def __call__(self, name: str) -> Any:
        raise ComError(f"no module {name}")

    def Remove(self, component: Any) -> None:  # noqa: N802
        raise ComError("nothing to remove")

    def Import(self, path: str) -> None:  # noqa: N802
        with open(path, encoding="utf-8") as stream:
            self.keep(stream.read())
