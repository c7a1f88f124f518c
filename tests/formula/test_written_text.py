"""Small functions and the formula text that a person would write for them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tanksheet.calc.ratio import feed_rate, percent_injected
from tanksheet.calc.stock import liquid_volume, stock_mass
from tanksheet.errors import DividedByZero, NotListed
from tanksheet.formula import Ref, formula_text, read_call, read_function
from tanksheet.subset import (
    ceil,
    check,
    count,
    exp,
    floor,
    helper,
    log,
    log10,
    mean,
    power,
    rounded,
    shown,
    sqrt,
)
from tanksheet.tables import look_up
from tanksheet.units import QUANTITIES, Number, Quantity

LIMIT = 40
COLOURS = ("red", "blue")
POSITIVE = Quantity(Number, "above 0", low=0, above=True)
FROM_ZERO = Quantity(Number, "from 0", low=0)


def text_of(function: Callable[..., Any], facts: dict[str, Quantity] | None = None) -> str:
    names = function.__code__.co_varnames[: function.__code__.co_argcount]
    known = facts or {}
    return formula_text(read_function(function, [Ref(name) for name in names], known), {})


ARITHMETIC = [
    (lambda a, b, c: a + b + c, "a+b+c"),
    (lambda a, b, c: a + (b + c), "a+(b+c)"),
    (lambda a, b, c: a - b - c, "a-b-c"),
    (lambda a, b, c: a - (b - c), "a-(b-c)"),
    (lambda a, b, c: a - b + c, "a-b+c"),
    (lambda a, b, c: a + b * c, "a+b*c"),
    (lambda a, b, c: (a + b) * c, "(a+b)*c"),
    (lambda a, b, c: a * b / c, "a*b/c"),
    (lambda a, b, c: a / b / c, "a/b/c"),
    (lambda a, b, c: a / (b * c), "a/(b*c)"),
    (lambda a, b, c: a / (b / c), "a/(b/c)"),
    (lambda a, b, c: a * (b / c), "a*(b/c)"),
    (lambda a, b, c: a - b * c, "a-b*c"),
    (lambda a, b, c: a * b - c, "a*b-c"),
    (lambda a, b, c: a / (b - c), "a/(b-c)"),
    # What can be reckoned at once is; idle constants stay where the cell may hold text.
    (lambda a, b, c: a * 1 + 0, "a*1"),
    (lambda a, b, c: 1 * a, "1*a"),
    (lambda a, b, c: a / 1 - 0, "a/1"),
    (lambda a, b, c: (a - b) * 1 + 0, "a-b"),
    (lambda a, b, c: a * (2 / 4), "a*0.5"),
    (lambda a, b, c: a / (1 - 1), "a/0"),
    (lambda a, b, c: 1 / 0, "1/0"),
    (lambda a, b, c: 1e300 * 1e300, "1E+300*1E+300"),
    (lambda a, b, c: 1e-9 * a, "1E-09*a"),
    (lambda a, b, c: a * 1500000.0, "a*1500000"),
    (lambda a, b, c: a * 1e15, "a*1000000000000000.0"),
]

SIGNS = [
    # Python's -a**2 is -(a**2); a sheet's -a^2 is (-a)^2. Brackets say which is meant.
    (lambda a, b: -(a**2), "-(a^2)"),
    (lambda a, b: (-a) ** 2, "(-a)^2"),
    (lambda a, b: -(2**2), "-(2^2)"),
    (lambda a, b: (-2) ** 2, "(-2)^2"),
    (lambda a, b: 2**3 * a, "2^3*a"),
    (lambda a, b: (a**3) ** 2, "(a^3)^2"),
    (lambda a, b: a**2 * b, "a^2*b"),
    (lambda a, b: a * b**2, "a*b^2"),
    (lambda a, b: (a * b) ** 2, "(a*b)^2"),
    (lambda a, b: (a / b) ** 2 + 1, "(a/b)^2+1"),
    (lambda a, b: -a - -b, "(-a)-(-b)"),
    (lambda a, b: -a * b, "(-a)*b"),
    (lambda a, b: -(a * b), "-(a*b)"),
    (lambda a, b: -(-(a + b)), "-(-(a+b))"),  # noqa: B002
    (lambda a, b: a - 5, "a-5"),
    (lambda a, b: a + -5, "a+(-5)"),
    (lambda a, b: a * -5, "a*(-5)"),
]

CONDITIONS = [
    (lambda a, b, c: a < b, "a<b"),
    (lambda a, b, c: a + b > c * 2, "a+b>c*2"),
    (lambda a, b, c: a != b, "a<>b"),
    (lambda a, b, c: a == b, "a=b"),
    (lambda a, b, c: a < b < c, "IF(a<b,b<c,FALSE)"),
    (lambda a, b, c: 0 < a <= b < c, "IF(0<a,IF(a<=b,b<c,FALSE),FALSE)"),
    (lambda a, b, c: a > b and b > c, "IF(a>b,b>c,FALSE)"),
    (lambda a, b, c: a > b or b > c, "IF(a>b,TRUE,b>c)"),
    (lambda a, b, c: a != "" and a < 5, 'AND(a<>"",a<5)'),
    # A sheet's AND runs every part, and a blank times two is an error in it.
    (lambda a, b, c: a != "" and a < a * 2, 'IF(a<>"",a<a*2,FALSE)'),
    (lambda a, b, c: not a > b, "IF(a>b,FALSE,TRUE)"),
    (lambda a, b, c: a > b and not b > c or a == 1, "OR(IF(a>b,IF(b>c,FALSE,TRUE),FALSE),a=1)"),
    (lambda a, b, c: a if b > c else -a, "IF(b>c,a,-a)"),
    (lambda a, b, c: (a if b > 1 else b) * c, "IF(b>1,a,b)*c"),
    (lambda a, b, c: 1 if a > 1 else 2 if b > 1 else 3, "IF(a>1,1,IF(b>1,2,3))"),
    (lambda a, b, c: (1 if a > 1 else 2) if b > 1 else 3, "IF(b>1,IF(a>1,1,2),3)"),
    (lambda a, b, c: a in COLOURS, 'OR(a="red",a="blue")'),
    (lambda a, b, c: 'say "no"' if a > b else "", 'IF(a>b,"say ""no""","")'),
]

FUNCTIONS = [
    (lambda a, b: min(a, b, 3), "MIN(a,b,3)"),
    (lambda a, b: max(a, -b), "MAX(a,-b)"),
    (lambda a, b: abs(a - b), "ABS(a-b)"),
    (lambda a, b: exp(-a), "EXP(-a)"),
    (lambda a, b: floor(a / b), "INT(a/b)"),
    (lambda a, b: ceil(a / b), "-INT(-(a/b))"),
    (lambda a, b: ceil(a) * b, "(-INT(-a))*b"),
    (lambda a, b: -ceil(a), "-(-INT(-a))"),
    (lambda a, b: b - ceil(a), "b-(-INT(-a))"),
    (lambda a, b: rounded(a, 2), "ROUND(a,2)"),
    (lambda a, b: rounded(a, -2), "ROUND(a,-2)"),
    (lambda a, b: sqrt(a), "IF(a>=0,SQRT(a),#NUM!)"),
    (lambda a, b: sqrt(a + b), "IF(a+b>=0,SQRT(a+b),#NUM!)"),
    (lambda a, b: log(a), "IF(a>0,LN(a),#NUM!)"),
    (lambda a, b: log10(a), "IF(a>0,LOG10(a),#NUM!)"),
    (lambda a, b: sqrt(2) * a, "SQRT(2)*a"),
    (lambda a, b: power(a, 0.5), "IF(a>=0,a^0.5,#NUM!)"),
    (lambda a, b: power(2, a), "2^a"),
    (lambda a, b: power(a, -1), "IF(a>0,a^(-1),IF(AND(a=0,(-1)>0),0,#NUM!))"),
    (lambda a, b: mean(a) / count(a), "AVERAGE(a)/COUNT(a)"),
]

WORDS = [
    (lambda a, b: f"mix {a}", '"mix "&a'),
    (lambda a, b: f"{a}", "a"),
    (lambda a, b: f"about {shown(b, 1)} L", '"about "&ROUND(b,1)+0&" L"'),
    (lambda a, b: shown(b, 1), 'ROUND(b,1)+0&""'),
    (lambda a, b: f"{shown(b, 1)}", 'ROUND(b,1)+0&""'),
    (lambda a, b: shown(b, 1) == "2.5", '(ROUND(b,1)+0&"")="2.5"'),
    (lambda a, b: f"{shown(a + b, 0)}/{shown(b, 0)}", 'ROUND(a+b,0)+0&"/"&ROUND(b,0)+0'),
    (lambda a, b: f"{'much' if b > 1 else 'little'} water", 'IF(b>1,"much","little")&" water"'),
    (lambda a, b: "", '""'),
]

LOOK_UPS = [
    (lambda a: look_up("units", "factor", "gal"), "3.785411784"),
    (lambda a: look_up("units", "factor", "GAL") * a, "3.785411784*a"),
    (lambda a: look_up("units", "kind", "gal") == look_up("units", "kind", "L"), "TRUE"),
    (lambda a: -a + look_up("units", "offset", "gal"), "-a"),
    (
        lambda a: look_up("oxides", "factor", a),
        'INDEX(fert_oxides_factor,MATCH(SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(a,"~","~~"),"*","~*"),'
        '"?","~?"),fert_oxides_oxide,0))',
    ),
]


@pytest.mark.parametrize(
    ("function", "expected"),
    [*ARITHMETIC, *SIGNS, *CONDITIONS, *FUNCTIONS, *WORDS, *LOOK_UPS],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_expression(function: Callable[..., Any], expected: str) -> None:
    assert text_of(function) == expected


@pytest.mark.parametrize(
    ("function", "expected"),
    [
        (lambda a, b: sqrt(a), "SQRT(a)"),
        (lambda a, b: sqrt(a - a * a), "IF(a-a*a>=0,SQRT(a-a*a),#NUM!)"),
        (lambda a, b: a / 2 - 1, "a/2-1"),
        (lambda a, b: 0 - a, "0-a"),
        (lambda a, b: 1 / a + 2, "1/a+2"),
        (lambda a, b: log(a * a / a), "LN(a*a/a)"),
        (lambda a, b: power(a, b), "a^b"),
        (lambda a, b: power(b, a), "IF(b>=0,b^a,#NUM!)"),
        # 0 is allowed for b, so a root is safe by range only for a.
        (lambda a, b: sqrt(b), "IF(b>=0,SQRT(b),#NUM!)"),
        (lambda a, b: log(b), "IF(b>0,LN(b),#NUM!)"),
        (lambda a, b: log(a - b), "IF(a-b>0,LN(a-b),#NUM!)"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_known_facts_leave_checks_out(function: Callable[..., Any], expected: str) -> None:
    assert text_of(function, {"a": POSITIVE, "b": FROM_ZERO}) == expected


# Statements


def early_return(a: float, b: float) -> float:
    """Documentation is passed over."""
    if a > LIMIT:
        return b
    if a < 0:
        return -b
    return a


def either_way(a: float, b: float) -> float:
    if a > b:
        larger = a
    elif a == b:
        return 0
    else:
        larger = b
    return larger * 2


def local_names(a: float, b: float) -> float:
    total = a + b
    total = total * 2
    share = a / total
    return share - total


def local_name_in_one_branch(a: float, b: float) -> float:
    step = 1
    if a > b:
        step = b  # type: ignore[assignment]
    return a * step


def checked(a: float, b: float) -> float:
    check(a > b, "a must be above b")
    check(b != 0, "b must not be 0", DividedByZero)
    return a / b


def checked_in_a_branch(a: float, b: float) -> float:
    if a > 1:
        check(b > 1, "too small", NotListed)
        return a
    return b


def settled_beforehand(a: float, b: float) -> float:
    if LIMIT == 40:
        return a
    return b


@helper
def doubled(number: float) -> float:
    return number * 2


@helper
def signed(number: float) -> float:
    if number < 0:
        return -1
    return 1


def calls_helpers(a: float, b: float) -> float:
    return doubled(a - b) ** 2 + signed(b)


@pytest.mark.parametrize(
    ("function", "expected"),
    [
        (early_return, "IF(a>40,b,IF(a<0,-b,a))"),
        (either_way, "IF(a>b,a*2,IF(a=b,0,b*2))"),
        (local_names, "a/((a+b)*2)-(a+b)*2"),
        (local_name_in_one_branch, "IF(a>b,a*b,a*1)"),
        (checked, "IF(a>b,IF(b<>0,a/b,#DIV/0!),#NUM!)"),
        (checked_in_a_branch, "IF(a>1,IF(b>1,a,#N/A),b)"),
        (settled_beforehand, "a"),
        (calls_helpers, "((a-b)*2)^2+IF(b<0,-1,1)"),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)
def test_statements(function: Callable[..., Any], expected: str) -> None:
    assert text_of(function) == expected


# Calculations inside others


def plain(ratio: float) -> float:
    return percent_injected(ratio) * 2


def twice(flow: float, ratio: float) -> float:
    return percent_injected(feed_rate(flow, ratio))


RATIO_GUARD = 'IF(ISNUMBER(ratio),IF(AND(ratio>=1,ratio<=1000000),100/ratio,#NUM!),-("x"&ratio))'


def test_nested_calculation_brings_its_checks() -> None:
    assert text_of(plain) == f"{RATIO_GUARD}*2"


def test_known_range_leaves_the_checks_out() -> None:
    assert text_of(plain, {"ratio": QUANTITIES["ratio"]}) == "100/ratio*2"


def test_known_number_of_unknown_range_leaves_one_check_out() -> None:
    number = {"ratio": Quantity(Number, "any number")}
    assert text_of(plain, number) == "IF(AND(ratio>=1,ratio<=1000000),100/ratio,#NUM!)*2"


def test_computed_argument_is_checked_for_range_only() -> None:
    known = {name: QUANTITIES[name] for name in ("flow", "ratio")}
    inner = "flow*60/ratio"
    assert text_of(twice, known) == (f"IF(AND({inner}>=1,{inner}<=1000000),100/({inner}),#NUM!)")


def test_facts_of_the_outer_calculation_reach_the_inner_one() -> None:
    names = ["target", "content", "density", "ratio", "tank"]
    text = formula_text(read_call(liquid_volume, [Ref(name) for name in names], {}))
    assert text.count("ISNUMBER") == len(names)
    assert text.count("target*ratio*tank/(content*10)") == 1


def test_cells_take_the_place_of_parameters() -> None:
    arguments = [Ref("B2"), Ref("B3"), Ref("B4"), Ref("Mix!$C$5")]
    facts = dict(
        zip(
            [cell.name for cell in arguments],
            map(QUANTITIES.__getitem__, ("target", "content", "ratio", "tank")),
            strict=True,
        )
    )
    tree = read_call(stock_mass, arguments, facts)
    assert formula_text(tree, {}) == "B2*B4*Mix!$C$5/(B3*10)"
    assert formula_text(tree, {"B2": "target_n"}) == "target_n*B4*Mix!$C$5/(B3*10)"
