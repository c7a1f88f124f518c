"""Bodies that no formula can say. The comment on a line is what the refusal of that line says."""

# ruff: noqa
# mypy: ignore-errors

import math
from math import inf

from tanksheet.calc.stock import stock_mass
from tanksheet.errors import NotListed
from tanksheet.subset import check, helper, mean, rounded, shown, sqrt
from tanksheet.tables import look_up

WORDS = ["a", "b"]
settings = {"x": 1}


def for_loop(a, b):
    total = a
    for step in range(3):  # refused: a for statement
        total = total + step
    return total


def while_loop(a, b):
    while a > b:  # refused: a while statement
        a = a - b
    return a


def comprehension(a, b):
    return max(part for part in (a, b))  # refused: a generatorexp expression


def list_of_values(a, b):
    total = a + b
    return max([a, b, total])  # refused: a list expression


def attribute_value(a, b):
    return (
        a * math.pi  # refused: a attribute expression
    )


def attribute_call(a, b):
    return a + math.sqrt(b)  # refused: a call of math.sqrt


def method_call(a, b):
    return a.upper()  # refused: a call of a.upper


def keyword_argument(a, b):
    return rounded(a, digits=2)  # refused: arguments by keyword


def keyword_check(a, b):
    c = a + b
    check(c > 0, "too small", fault=NotListed)  # refused: check() by keyword
    return c


def check_with_no_fault(a, b):
    check(a > 0, "too small", ValueError)  # refused: a kind of Fault
    return a


def unknown_call(a, b):
    return a + round(b)  # refused: a call of round


def call_of_a_parameter(a, b):
    return a(b)  # refused: a call of a


def unmarked_function(a, b):
    return for_loop(a, b)  # refused: a call of for_loop


def variable_exponent(a, b):
    return a**b  # refused: ** with anything but a whole number


def broken_exponent(a, b):
    return a**0.5  # refused: ** with anything but a whole number


def negative_exponent(a, b):
    return b + a**-1  # refused: ** with a number below 1


def exponent_zero(a, b):
    return a**0  # refused: ** with a number below 1


def tower(a, b):
    return a**2**2  # refused: ** with anything but a whole number


def format_spec(a, b):
    word = f"{b:.2f}"  # refused: a format in braces
    return word


def format_conversion(a, b):
    return f"{a!r}"  # refused: a format in braces


def bare_number_in_text(a, b):
    return f"{a * 2} L"  # refused: a bare number in braces


def two_targets(a, b):
    c = d = a  # refused: only one plain name can be assigned
    return c + d


def unpacking(a, b):
    c, d = a, b  # refused: only one plain name can be assigned
    return c


def item_assigned(a, b):
    settings["x"] = a  # refused: only one plain name can be assigned
    return b


def augmented(a, b):
    a += b  # refused: a augassign statement
    return a


def annotated(a, b):
    c: float = a  # refused: a annassign statement
    return c


def try_statement(a, b):
    try:  # refused: a try statement
        return a / b
    except ZeroDivisionError:
        return 0


def with_statement(a, b):
    with open("x") as c:  # refused: a with statement
        return a


def raise_statement(a, b):
    if a > b:
        raise ValueError("no")  # refused: a raise statement
    return a


def pass_statement(a, b):
    if a > b:
        pass  # refused: a pass statement
    return a


def inner_function(a, b):
    def inner(c):  # refused: a functiondef statement
        return c

    return inner(a)


def bare_return(a, b):
    if a > b:
        return  # refused: a return statement
    return a


def idle_call(a, b):
    sqrt(a)  # refused: a statement that returns nothing
    return b


def walrus(a, b):
    return (c := a) + c  # refused: a namedexpr expression


def lambda_inside(a, b):
    return (lambda c: c)(a)  # refused: a call of lambda c: c


def starred(a, b):
    return max(*a)  # refused: a starred expression


def subscript(a, b):
    return a[0]  # refused: a subscript expression


def floor_division(a, b):
    return a // b  # refused: the operator FloorDiv


def modulo(a, b):
    return 1 + a % b  # refused: the operator Mod


def bitwise(a, b):
    return a & b  # refused: the operator BitAnd


def unary_plus(a, b):
    return +a  # refused: this sign


def inversion(a, b):
    return ~a  # refused: this sign


def identity(a, b):
    return 1 if a is b else 2  # refused: the comparison Is


def membership_of_list(a, b):
    return 1 if a in WORDS else 2  # refused: `in` with anything but a named tuple


def not_in(a, b):
    return 1 if a not in b else 2  # refused: the comparison NotIn


def number_or_number(a, b):
    return a or b  # refused: a value as a test


def number_and_condition(a, b):
    return a and b > 1  # refused: a value as a test


def none_constant(a, b):
    return a if a > b else None  # refused: the constant None


def bytes_constant(a, b):
    return b"a"  # refused: the constant b'a'


def imaginary(a, b):
    return a * 2j  # refused: the constant 2j


def infinite_literal(a, b):
    return min(a, 1e999)  # refused: the constant inf


def infinite_name(a, b):
    return min(a, inf)  # refused: the name 'inf'


def unknown_name(a, b):
    return a + nowhere  # refused: the name 'nowhere'


def name_of_a_list(a, b):
    return WORDS  # refused: the name 'WORDS'


def too_few_arguments(a, b):
    return a + sqrt()  # refused: sqrt takes 1 arguments, got 0


def too_many_arguments(a, b):
    return mean(a, b)  # refused: mean takes 1 arguments, got 2


def calculation_lacks_arguments(a, b):
    return stock_mass(a, b)  # refused: stock_mass takes 4 arguments, got 2


def shown_without_digits(a, b):
    return shown(a)  # refused: shown takes 2 arguments, got 1


def look_up_lacks_key(a, b):
    return look_up("units", "factor")  # refused: look_up() takes table, column and key


def look_up_in_any_table(a, b):
    return look_up(a, "factor", b)  # refused: a table or column that is not written out


def look_up_in_no_table(a, b):
    return look_up("plants", "height", a)  # refused: no column 'height' in a table 'plants'


def look_up_in_no_column(a, b):
    return look_up("units", "height", a)  # refused: no column 'height' in a table 'units'


def look_up_of_no_row(a, b):
    return look_up("units", "factor", "cubit")  # refused: unit 'cubit' is not listed


def chained_look_up(a, b):
    return (
        1 if a > b else look_up("units", "factor", "gal").real  # refused: a attribute expression
    )


@helper
def calls_itself(a, b):
    return a if b < 1 else a * calls_itself(a, b - 1)  # refused: a calculation that calls itself


@helper
def refused_further_in(a):
    return a % 2  # refused: the operator Mod


def bare_body(a, b):  # refused: a path through it returns nothing
    """Only documentation."""


def one_path_returns(a, b):  # refused: a path through it returns nothing
    if a > b:
        return a


def path_ends_after_assignment(a, b):  # refused: a path through it returns nothing
    if a > b:
        return a
    c = b
