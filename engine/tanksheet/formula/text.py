"""Writes a tree as formula text that Excel 2010+, LibreOffice 7+, Gnumeric, IronCalc and
``formulas`` all read alike."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tanksheet.errors import NotCompilable
from tanksheet.formula.nodes import (
    Call,
    Const,
    Fail,
    If,
    Lookup,
    Neg,
    Node,
    Op,
    Ref,
)
from tanksheet.tables import KEYS

LONGEST = 8192  # characters in a formula, Excel's limit
STRENGTH = {"=": 1, "<>": 1, "<": 1, "<=": 1, ">": 1, ">=": 1, "&": 2, "+": 3, "-": 3}
# Calls whose text is not one function but an expression.
UNBRACKETED = ("among", "begins", "ceil", "lowest_total", "not_numbers", "same", "shown")
STRENGTH |= {"*": 4, "/": 4, "^": 5}
SPELLING = {
    "min": "MIN",
    "max": "MAX",
    "abs": "ABS",
    "exp": "EXP",
    "floor": "INT",
    "rounded": "ROUND",
    "count": "COUNT",
    "filled": "COUNTA",
    "sqrt": "SQRT",
    "log": "LN",
    "log10": "LOG10",
    "mean": "AVERAGE",
    "mean_deviation": "AVEDEV",
    "standard_deviation": "STDEV",
    "dot": "SUMPRODUCT",
    "sum_where": "SUMIF",
    "smallest": "SMALL",
    "nth": "INDEX",
    "is_number": "ISNUMBER",
    "is_error": "ISERROR",
    "all": "AND",
    "any": "OR",
}


def formula_text(node: Node, names: Mapping[str, str] | None = None) -> str:
    """Formula text without the leading "=". ``names`` says how each Ref is spelled.

    Raises: NotCompilable when the text is longer than a spreadsheet takes.
    """
    text = _Writer(names or {}).write(node)
    if len(text) > LONGEST:
        raise NotCompilable("formula", 0, f"{len(text)} characters; a cell takes {LONGEST}")
    return text


def column_name(table: str, column: str) -> str:
    """The defined name under which a workbook carries a column of a data table."""
    return f"fert_{table}_{column}"


class _Writer:
    def __init__(self, names: Mapping[str, str]) -> None:
        self.names = names

    def write(self, node: Node) -> str:
        method: Callable[[Node], str] = getattr(self, f"write_{type(node).__name__.lower()}")
        return method(node)

    def inner(self, node: Node) -> str:
        """A part in brackets unless nothing could split it."""
        text = self.write(node)
        split = isinstance(node, (Op, Neg)) or (
            isinstance(node, Const) and not isinstance(node.value, (str, bool)) and node.value < 0
        )
        split = split or (isinstance(node, Call) and node.function in UNBRACKETED)
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
        # Brackets are left out only where every engine agrees on the order: not around powers of
        # powers (Gnumeric reads them from the right) nor signs (-2^2 is 4 in a sheet).
        if node.symbol == "&":
            return f"{self.piece(node.left)}&{self.piece(node.right)}"
        strength = STRENGTH[node.symbol]
        left = right = False
        if isinstance(node.left, Op) and strength < 5:
            other = STRENGTH[node.left.symbol]
            left = other > strength or other == strength in (3, 4)
        if isinstance(node.right, Op) and strength < 5:
            right = STRENGTH[node.right.symbol] > strength
        before = self.write(node.left) if left else self.inner(node.left)
        after = self.write(node.right) if right else self.inner(node.right)
        return f"{before}{node.symbol}{after}"

    def piece(self, node: Node) -> str:
        if isinstance(node, Call) and node.function == "shown":
            return self.joined(*node.arguments)
        if isinstance(node, Op) and node.symbol == "&":
            return self.write(node)
        return self.inner(node)

    def write_neg(self, node: Neg) -> str:
        return f"-{self.inner(node.inner)}"

    def write_if(self, node: If) -> str:
        return f"IF({self.write(node.test)},{self.write(node.yes)},{self.write(node.no)})"

    def write_fail(self, node: Fail) -> str:
        return str(node.code)

    def write_lookup(self, node: Lookup) -> str:
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

    def call_shown(self, number: Node, digits: Node) -> str:
        text = self.joined(number, digits)
        return text if text.startswith("FIXED") else f'{text}&""'

    def joined(self, number: Node, digits: Node) -> str:
        """A rounded number inside a run of text, written as the sheet's locale does.

        Adding 0 turns a rounded -0 into 0, which one engine would write with its sign. From two
        decimals on FIXED is needed: one engine would write 0.54 with twenty digits.
        """
        places = self.write(digits)
        text = f"ROUND({self.write(number)},{places})+0"
        return text if places in ("0", "1") else f"FIXED({text},{places},TRUE)"

    def call_not_numbers(self, *cells: Node) -> str:
        # Joined behind a text, the first error among the cells comes through in every engine
        # (LibreOffice lets the second of two errors win); the sign turns text into #VALUE!.
        return f'-("x"&{"&".join(self.piece(cell) for cell in cells)})'

    def call_literal(self, word: Node) -> str:
        # MATCH reads * and ? as a pattern unless ~ stands before them, and ~ as that sign.
        text = self.write(word)
        for sign in "~*?":
            text = f'SUBSTITUTE({text},"{sign}","~{sign}")'
        return text

    def call_position(self, word: Node, words: Node) -> str:
        found = f"MATCH({self.write(word)},{self.write(words)},0)"
        if not (isinstance(word, Call) and word.function == "literal"):
            return found
        # Engines do not agree on whether a blank is found.
        return f'IF({self.inner(word.arguments[0])}="",#N/A,{found})'

    def call_same(self, words: Node, word: Node) -> str:
        """1 for each cell that holds the word, 0 for the others; = knows no patterns."""
        return f"({self.write(words)}={self.inner(word)})*1"

    def call_among(self, word: Node, words: Node) -> str:
        return f"SUMPRODUCT({self.call_same(words, word)})>0"

    def call_begins(self, text: Node, word: Node) -> str:
        if not (isinstance(word, Const) and isinstance(word.value, str)):
            raise NotCompilable("begins()", 0, "a second argument that is not written out")
        return f"LEFT({self.write(text)},{len(word.value)})={self.write(word)}"

    def call_before(self, text: Node, mark: Node) -> str:
        whole, sign = self.write(text), self.write(mark)
        return f"LEFT({whole},FIND({sign},{self.inner(text)}&{sign})-1)"

    def call_after(self, text: Node, mark: Node) -> str:
        whole, sign = self.write(text), self.write(mark)
        start = f"FIND({sign},{self.inner(text)}&{sign})+LEN({sign})"
        return f"MID({whole},{start},{LONGEST})"

    def call_number_held(self, cell: Node) -> str:
        # Digits are told by what is left without them, since the sheet's own reading of text with
        # marks in it depends on the land.
        held = self.write(cell)
        text = f'TRIM(SUBSTITUTE({held},"\u00a0"," "))'
        digits = f'SUBSTITUTE({text},".","")'
        left = digits
        for digit in "0123456789":
            left = f'SUBSTITUTE({left},"{digit}","")'
        whole = f'{left}="",LEN({digits})>0,LEN({digits})<16,LEN({text})-LEN({digits})<2'
        places = f'MAX(0,LEN({text})-FIND(".",{text}&"."))'
        # Asked for text, not for a number: one engine takes text that was worked out for a number.
        read = f"IF(AND({whole}),VALUE({digits})/10^{places},{held})"
        return f'IF({held}="","",IF(ISTEXT({held}),{read},{held}))'

    def call_without_unit(self, cell: Node, unit: Node) -> str:
        held, ending = self.write(cell), self.write(unit)
        text = f"TRIM({held})"
        begins = f"TRIM(LEFT({text},LEN({text})-LEN({ending})))"
        read = f"IF(RIGHT({text},LEN({ending}))={ending},{begins},{held})"
        return f"IF(ISTEXT({held}),{read},{held})"

    def call_ceil(self, number: Node) -> str:
        return f"-INT(-{self.inner(number)})"

    def call_lowest_total(self, readings: Node, how_many: Node) -> str:
        # The k lowest add up to k times the k-th less what the lower ones fall short of it.
        cells, k = self.write(readings), self.write(how_many)
        limit = f"SMALL({cells},{k})"
        short = f'SUMPRODUCT(({cells}<>"")*({cells}<{limit})*({limit}-{cells}))'
        return f"{self.inner(how_many)}*{limit}-{short}"
