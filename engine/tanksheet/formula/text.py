"""Writes a tree as formula text that Excel 2010+, LibreOffice 7+, Gnumeric, IronCalc and
``formulas`` all read alike."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tanksheet.errors import NotCompilable
from tanksheet.formula.nodes import (
    Call,
    Const,
    Fail,
    Facts,
    If,
    Lookup,
    Neg,
    Node,
    Op,
    Ref,
    is_positive,
)

LONGEST = 8192  # characters in a formula, Excel's limit
STRENGTH = {"=": 1, "<>": 1, "<": 1, "<=": 1, ">": 1, ">=": 1, "&": 2, "+": 3, "-": 3}
STRENGTH |= {"*": 4, "/": 4, "^": 5}
SPELLING = {
    "min": "MIN",
    "max": "MAX",
    "abs": "ABS",
    "exp": "EXP",
    "floor": "INT",
    "rounded": "ROUND",
    "shown": "ROUND",
    "count": "COUNT",
    "filled": "COUNTA",
    "mean": "AVERAGE",
    "mean_deviation": "AVEDEV",
    "standard_deviation": "STDEV",
    "is_number": "ISNUMBER",
    "all": "AND",
    "any": "OR",
}


def formula_text(node: Node, names: Mapping[str, str] | None = None, facts: Facts = {}) -> str:
    """Formula text without the leading "=". ``names`` says how each Ref is spelled.

    Raises: NotCompilable when the text is longer than a spreadsheet takes.
    """
    text = _Writer(names or {}, facts).write(node)
    if len(text) > LONGEST:
        raise NotCompilable("formula", 0, f"{len(text)} characters; a cell takes {LONGEST}")
    return text


def column_name(table: str, column: str) -> str:
    """The defined name under which a workbook carries a column of a data table."""
    return f"fert_{table}_{column}"


class _Writer:
    def __init__(self, names: Mapping[str, str], facts: Facts) -> None:
        self.names, self.facts = names, facts

    def write(self, node: Node) -> str:
        method: Callable[[Node], str] = getattr(self, f"write_{type(node).__name__.lower()}")
        return method(node)

    def inner(self, node: Node) -> str:
        """A part in brackets unless nothing could split it."""
        text = self.write(node)
        split = isinstance(node, (Op, Neg)) or (
            isinstance(node, Const) and not isinstance(node.value, (str, bool)) and node.value < 0
        )
        split = split or (isinstance(node, Call) and node.function in ("ceil", "lowest_total"))
        return f"({text})" if split else text

    def write_const(self, node: Const) -> str:
        if isinstance(node.value, bool):
            return "TRUE" if node.value else "FALSE"
        if isinstance(node.value, str):
            doubled = node.value.replace('"', '""')
            return f'"{doubled}"'
        number = float(node.value)
        plain = number.is_integer() and abs(number) < 1e15
        return str(int(number)) if plain else repr(number).upper()

    def write_ref(self, node: Ref) -> str:
        return self.names.get(node.name, node.name)

    def write_op(self, node: Op) -> str:
        # Brackets are left out only where every engine reads left to right at one strength.
        strength = STRENGTH[node.symbol]
        left = self.inner(node.left)
        if isinstance(node.left, Op) and 3 <= strength < 5:
            if 3 <= strength <= STRENGTH[node.left.symbol] < 5:
                left = self.write(node.left)
        right = self.inner(node.right)
        if isinstance(node.right, Op) and strength < STRENGTH[node.right.symbol] < 5:
            right = self.write(node.right)
        return f"{left}{node.symbol}{right}"

    def write_neg(self, node: Neg) -> str:
        return f"-{self.inner(node.inner)}"

    def write_if(self, node: If) -> str:
        return f"IF({self.write(node.test)},{self.write(node.yes)},{self.write(node.no)})"

    def write_fail(self, node: Fail) -> str:
        return str(node.code)

    def write_lookup(self, node: Lookup) -> str:
        from tanksheet.tables import KEYS

        key = column_name(node.table, KEYS[node.table])
        found = f"MATCH({self.write(node.key)},{key},0)"
        return f"INDEX({column_name(node.table, node.column)},{found})"

    def write_call(self, node: Call) -> str:
        special = getattr(self, f"call_{node.function}", None)
        if special is not None:
            text: str = special(*node.arguments)
            return text
        arguments = ",".join(self.write(argument) for argument in node.arguments)
        return f"{SPELLING[node.function]}({arguments})"

    # Roots, logarithms and powers carry their own check: engines give different errors.

    def checked(self, number: Node, symbol: str, text: str) -> str:
        if is_positive(number, self.facts):
            return text
        return f"IF({self.inner(number)}{symbol}0,{text},#NUM!)"

    def call_sqrt(self, number: Node) -> str:
        return self.checked(number, ">=", f"SQRT({self.write(number)})")

    def call_log(self, number: Node) -> str:
        return self.checked(number, ">", f"LN({self.write(number)})")

    def call_log10(self, number: Node) -> str:
        return self.checked(number, ">", f"LOG10({self.write(number)})")

    def call_power(self, base: Node, exponent: Node) -> str:
        text = f"{self.inner(base)}^{self.inner(exponent)}"
        if is_positive(base, self.facts):
            return f"({text})"
        if is_positive(exponent, self.facts):
            return self.checked(base, ">=", text)
        zero = f"IF(AND({self.inner(base)}=0,{self.inner(exponent)}>0),0,#NUM!)"
        return f"IF({self.inner(base)}>0,{text},{zero})"

    def call_ceil(self, number: Node) -> str:
        return f"-INT(-{self.inner(number)})"

    def call_lowest_total(self, readings: Node, how_many: Node) -> str:
        # The k lowest add up to k times the k-th less what the lower ones fall short of it.
        cells, k = self.write(readings), self.write(how_many)
        limit = f"SMALL({cells},{k})"
        short = f'SUMPRODUCT(({cells}<>"")*({cells}<{limit})*({limit}-{cells}))'
        return f"{self.inner(how_many)}*{limit}-{short}"
