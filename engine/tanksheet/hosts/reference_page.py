"""The function reference: one page for people, made from the register and its docstrings."""

from __future__ import annotations

import ast
import inspect
import itertools
import textwrap
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from tanksheet.calc import TOPICS
from tanksheet.definition import Calculation, catalogue
from tanksheet.errors import Fault, NotListed, OutOfRange, SheetError
from tanksheet.formula.lambdas import has_name, uses_let
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS, Block, TableFunction
from tanksheet.hosts.xlwings.functions import excel_name
from tanksheet.hosts.xlwings.texts import TRUST
from tanksheet.sheets import advice
from tanksheet.tables import KEYS, Datum, rows
from tanksheet.units import Quantity
from tanksheet.xlsx.writing import replace_file

HEADINGS = {
    "convert": "Units and labels",
    "flow": "Water flow",
    "ratio": "The injector",
    "stock": "The stock tank",
    "water": "Water and acid",
    "saturation": "What a stock can hold",
    "conductivity": "Conductivity",
    "acidity": "Acids and lime",
    "feed": "The pH of a feed",
    "meter": "What the meter reads",
    "mixing": "What must not share a tank",
    "struvite": "Struvite",
    "brine": "Strong solutions",
    "crystals": "Salts that crystallize",
    "field": "The field",
    "cost": "Packs and cost",
    "arrival": "When the feed arrives",
    "proving": "Proving an injector",
    "cleaning": "Keeping emitters open",
    "choosing": "Choosing an injector",
    "upkeep": "Upkeep of the injector",
}
TOP = """\
# The functions

Written by `tanksheet list --page` from the code. A test keeps it equal to the code and works out
every example in Python, IronCalc, `formulas`, LibreOffice and Gnumeric. Numbers are plain: percent
as printed (15.5, not 0.155), mg/L is ppm in water, gallons are US gallons.

| where | how to get them | how they are written |
|---|---|---|
| Excel 2024 or 365 | `tanksheet addin lambda` | `=FERT.STOCKMASS(150,15.5,100,200)` |
| LibreOffice | `tanksheet addin libreoffice` | `=FERT.STOCKMASS(150,15.5,100,200)` |
| Excel with Python (xlwings) | `tanksheet addin xlwings` | `=FERT_STOCKMASS(150,15.5,100,200)` |
| a terminal | `tanksheet calc` | `'=FERT.STOCKMASS(150,15.5,100,200)'` |
| Python | `import tanksheet` | `tanksheet.stock_mass(150, 15.5, 100, 200)` |

Every host gives the same error for the same mistake. `#VALUE!`: text, a blank or TRUE/FALSE where
a number belongs. `#NUM!`: a number outside the range that the tables below give. `#N/A`: a word
that is not listed. `#DIV/0!`: nothing to divide by. An error among the arguments is handed on.
What a function adds to this stands with it. Python raises a `ValueError` that says which argument
is wrong, its value and what is allowed. One host is an exception: LibreOffice hands its extension a
blank cell as 0 and TRUE as 1.
"""
ADVICE = (*advice.FOR_CELLS, TRUST)
LET_NOTE = (
    "Its LAMBDA uses LET, which Excel, IronCalc and LibreOffice's extension work out but the "
    "Python library `formulas` does not."
)
NO_NAME_NOTE = (
    "It is too long for a LAMBDA name, so Excel has it through xlwings only; workbooks work it out "
    "in cells, and `tanksheet calc` does so in every engine."
)


def page() -> str:
    """The whole page, in Markdown."""
    topics = {topic: [c for c in catalogue().values() if c.topic == topic] for topic in TOPICS}
    parts = [TOP, *(textwrap.fill(f"- {each}", 100, subsequent_indent="  ") for each in ADVICE), ""]
    for topic, calculations in topics.items():
        links = ", ".join(_link(each.sheet_name) for each in calculations)
        parts.append(f"- {HEADINGS[topic]}: {links}")
    parts.append("- Whole tables: " + ", ".join(_link(t.sheet_name) for t in _tables()) + "\n")
    for topic, calculations in topics.items():
        parts.append(f"## {HEADINGS[topic]}\n")
        parts += [_section(each) for each in calculations]
    parts.append("## Whole tables\n")
    parts += [_table_section(each) for each in _tables()]
    parts += _words()
    return "\n".join(parts)


def write_page(path: Path) -> int:
    """Writes the page over the one that is there; 0, the exit code of a command that worked."""
    replace_file(path, page().encode())
    print(f"wrote {path}")
    return 0


def _tables() -> Iterable[TableFunction]:
    return TABLE_FUNCTIONS.values()


def _link(name: str) -> str:
    return f"[{name.partition('.')[2]}](#{name.replace('.', '').lower()})"


def example_formula(calculation: Calculation) -> str:
    """``=FERT.STOCKMASS(150,15.5,100,200)``."""
    arguments = ",".join(_written(value) for value in calculation.example[0])
    return f"={calculation.sheet_name}({arguments})"


def _written(value: Any) -> str:
    if isinstance(value, list):
        rows = [each if isinstance(each, list) else [each] for each in value]
        return "{" + ";".join(",".join(map(_written, row)) for row in rows) + "}"
    return f'"{value}"' if isinstance(value, str) else repr(value)


def _section(calculation: Calculation) -> str:
    name = calculation.sheet_name
    lines = [f"### {name}", "", f"`{name}({', '.join(calculation.parameters)})`", ""]
    lines += [*_described(calculation), *_arguments(calculation.parameters)]
    unit = "" if calculation.unit.symbol == "word" else f" {calculation.unit.symbol}".rstrip()
    result = calculation.example[1]
    lines += [f"Example: `{example_formula(calculation)}` gives {result}{unit}.", ""]
    errors = list(_errors(calculation))
    if errors:
        lines += ["Errors besides the usual ones:", "", *(f"- {each}" for each in errors), ""]
    function = calculation.body.__name__
    lines.append(f"Source: {calculation.source}")
    own = excel_name(calculation.name)
    named = has_name(calculation)
    hosts = "Excel and LibreOffice" if named else "LibreOffice"
    lines += ["", f"Has it: {hosts} `{name}`; xlwings `{own}`;"]
    lines.append(f"Python `tanksheet.{function}`.")
    if not named:
        lines.append(NO_NAME_NOTE)
    elif uses_let(calculation):
        lines.append(LET_NOTE)
    return "\n".join([*lines, ""])


def _described(calculation: Calculation) -> Iterator[str]:
    text = (inspect.getdoc(calculation.body) or "").partition("Source: ")[0]
    for paragraph in text.strip().split("\n\n"):
        yield paragraph.replace("``", "`")
        yield ""


def _arguments(quantities: dict[str, Quantity]) -> Iterator[str]:
    yield "| argument | unit | what it is | allowed |"
    yield "|---|---|---|---|"
    for name, quantity in quantities.items():
        unit = "range" if quantity.is_readings else quantity.unit.symbol or "number"
        allowed = quantity.allowed
        if quantity.is_readings and not isinstance(quantity, Block):
            allowed = f"each {allowed}; {quantity.at_least} or more numbers"
        yield f"| `{name}` | {unit} | {quantity.meaning} | {allowed} |"
    yield ""


def _errors(calculation: Calculation) -> Iterator[str]:
    """What the body itself refuses, and whether it can run out of something to divide by."""
    for code, message in _refusals(calculation):
        yield f"`{code}`: {message}"
    if SheetError.DIV in _at_the_limits(calculation):
        yield "`#DIV/0!`: with entries of 0 nothing is left to divide by"


def _refusals(calculation: Calculation) -> Iterator[tuple[SheetError, str]]:
    tree = ast.parse(textwrap.dedent(inspect.getsource(calculation.body)))
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "check":
            kind = NotListed if len(node.args) > 2 else OutOfRange
            yield kind.code, _message(node.args[1], inspect.unwrap(calculation.body).__globals__)


def _message(node: ast.expr, named: dict[str, Any]) -> str:
    """The text of a message, also of one with a name; what it fills in stands by its own name."""
    if isinstance(node, ast.Name):
        return str(named[node.id])
    if not isinstance(node, ast.JoinedStr):
        return str(ast.literal_eval(node))
    parts = (
        part.value if isinstance(part, ast.Constant) else f"*{ast.unparse(part.value)}*"
        for part in node.values
        if isinstance(part, (ast.Constant, ast.FormattedValue))
    )
    return "".join(str(part) for part in parts)


def _at_the_limits(calculation: Calculation) -> set[SheetError]:
    """The errors with the example's arguments, any of them at their lower limits."""
    pairs = zip(calculation.example[0], calculation.parameters.values(), strict=True)
    choices = [(given, *_lowest(given, quantity)) for given, quantity in pairs]
    found = set()
    for arguments in itertools.product(*choices):
        try:
            calculation.function(*arguments)
        except Fault as fault:
            found.add(fault.code)
    return found


def _lowest(given: Any, quantity: Quantity) -> list[Any]:
    if quantity.is_word:
        return [word for word in quantity.words if word != given]
    if quantity.above or not quantity.holds(quantity.low):
        return []
    return [[quantity.low] * len(given)] if quantity.is_readings else [quantity.low]


def _table_section(table: TableFunction) -> str:
    name, called = table.sheet_name, ",".join(_written(value) for value in table.example)
    filled = table.rows(*table.example)
    lines = [f"### {name}", "", f"`{name}({', '.join(table.arguments)})`", "", table.summary, ""]
    lines += _arguments(table.arguments)
    size = f"{len(filled)} rows and {len(filled[0])} columns"
    lines += [f"Example: `={excel_name(table.name)}({called})` fills {size}.", ""]
    lines += [f"Source: {table.source}", ""]
    return "\n".join(
        [
            *lines,
            f"Has it: LibreOffice, as an array formula; xlwings `{excel_name(table.name)}`.",
            "",
        ]
    )


def _words() -> Iterator[str]:
    """The words that the functions look up, from the tables that list them."""
    yield "## Listed words\n\nCapital or small letters make no difference.\n"
    kinds = itertools.groupby(rows("units"), lambda row: row["kind"])
    units = {f"Units of {kind}": [row["unit"] for row in group] for kind, group in kinds}
    for title, words in {**units, **_keys()}.items():
        yield f"- {title}: " + ", ".join(f"`{word}`" for word in words)
    yield ""


def _keys() -> dict[str, list[Datum]]:
    titles = {"oxides": "Oxides", "ions": "Ions", "acids": "Acids", "solubility": "Salts"}
    found = {title: [row[KEYS[table]] for row in rows(table)] for table, title in titles.items()}
    return found | {"Products": [row["product"] for row in rows("saturation") if row["at_20"]]}
