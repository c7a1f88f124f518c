"""Typed formulas: what is read, and that nothing else is ever run.

Hostile text must end in a clear NotListed (or the fault a cell would show), quickly, and alike in
every host, since all of them share the reading.
"""

from __future__ import annotations

import builtins
import importlib
import os
import subprocess
import time

import pytest

from engines_needed import need
from tanksheet.errors import (
    DividedByZero,
    Fault,
    NotANumber,
    NotListed,
    OutOfRange,
)
from tanksheet.expression import HOSTS, evaluate
from tanksheet.recalc import ENGINES

READ = [
    # By hand, or by the rules of arithmetic.
    ("=FERT.STOCKMASS(150,15.5,100,200)", 150 * 100 * 200 / 155),
    ("FERT.STOCKMASS(150, 15.5, 100, 200)", 150 * 100 * 200 / 155),
    ("=fert.stockmass(150,15.5,100,200)", 150 * 100 * 200 / 155),
    ("  =FERT.PERCENT(128)  ", 0.78125),
    ("=FERT.PERCENT(FERT.RATIO(0.8))", 0.8),
    ("=FERT.PERCENT(100)+FERT.PERCENT(200)", 1.5),
    ("=2*(3+4)-5/2", 11.5),
    ("=-3*-2", 6.0),
    ("=--4", 4.0),
    ("=1.5e2+.5", 150.5),
    ('=FERT.ELEMENT("P2O5",100)', 43.6425),  # 2 x 30.974 / 141.943, IUPAC weights
    ('=FERT.ELEMENT("p2o5",100)', 43.6425),
    ('=FERT.UNIFORMITY({2;2;2;2},"CU")', 100.0),
    ('=FERT.UNIFORMITY({2,2,2,2},"CU")', 100.0),
    ('=FERT.UNIFORMITY({1+1;2;4/2;2},"CU")', 100.0),
]


@pytest.mark.parametrize(("text", "value"), READ)
def test_in_python(text: str, value: float) -> None:
    assert evaluate(text) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(("text", "value"), READ)
def test_in_ironcalc(text: str, value: float) -> None:
    need(ENGINES["ironcalc"])
    assert evaluate(text, "ironcalc") == pytest.approx(evaluate(text), rel=1e-9)


@pytest.mark.parametrize("host", HOSTS)
def test_every_host(host: str) -> None:
    if host in ENGINES:
        need(ENGINES[host])
    nested = '=FERT.FEEDRATE(FERT.CONVERT(12,"gpm","L/min"),100)*2'
    assert evaluate(nested, host) == pytest.approx(54.5099297, rel=1e-8)  # by hand
    assert evaluate("=FERT.MEAN({25.2;24.8;25.6})", host) == pytest.approx(25.2)
    with pytest.raises(OutOfRange):
        evaluate("=FERT.PERCENT(0)", host)
    with pytest.raises(NotListed):
        evaluate('=FERT.ELEMENT("XO",5)', host)


NOT_FORMULAS = [
    "",
    "=",
    "==1",
    "=1+",
    "=(1",
    "=1)",
    "=(1]",
    '="open',
    "='single'",
    "=1 2",
    "=1;2",
    "=1 # and a note",
    "=1\n2",
    "=\x00",
    "=1_000",
    "=0x10",
    "=0b1",
    "=1j",
    '=b"x"',
    '=f"{1}"',
    '="a\\x41"',
    '="""x"""',
    "=" + "9" * 5000,
    "=" + "(" * 3000,
    "=lambda: 1:",
]
NOT_ALLOWED = [
    "=A1",
    "=Sheet1!A1",
    "=tank",
    "=True",
    "=None",
    "=...",
    "=1,2",
    "={1;2}",
    '=FERT.UNIFORMITY({25,1;24,9;26,2},"CU")',
    "={}",
    "=1^2",
    "=2**3",
    "=7//2",
    "=7%2",
    "=1<2",
    "=1 and 2",
    "=not 1",
    "=~1",
    "=1 if 1 else 2",
    "=[1,2][0]",
    "={1:2}",
    "=(1,2)",
    "=[x for x in (1,2)]",
    "=(x for x in (1,2))",
    "=lambda: 1",
    "=(y:=1)",
    "=await x",
    "=SUM(1,2)",
    "=STOCKMASS(150,15.5,100,200)",
    "=FERT.NOSUCH(1)",
    "=FERT.PERCENT",
    "=FERT.PERCENT()",
    "=FERT.PERCENT(1,2)",
    "=FERT.PERCENT(ratio=1)",
    "=FERT.PERCENT(*{1})",
    "=FERT.PERCENT(**x)",
    "=FERT.PERCENT.__class__(1)",
    "=FERT.PERCENT(1).__class__",
    "=FERT.__init__(1)",
    "=FERT.PERCENT.__globals__",
    '=__import__("os")',
    '=__import__("os").system("true")',
    '=eval("1")',
    '=exec("1")',
    '=open("x","w")',
    "=().__class__.__bases__",
    '="".join({1})',
    "=globals()",
    "=os.system(1)",
    '=getattr(FERT,"PERCENT")',
    "=(lambda: 1)()",
]


@pytest.mark.parametrize("text", NOT_FORMULAS + NOT_ALLOWED, ids=lambda text: repr(text)[:30])
def test_nothing_else_is_read(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    with sealed(monkeypatch), pytest.raises(NotListed) as caught:
        evaluate(text)
    said = str(caught.value)
    assert "\n" not in said
    assert 10 < len(said) < 300


@pytest.mark.parametrize("text", NOT_ALLOWED, ids=lambda text: repr(text)[:30])
def test_nothing_else_reaches_an_engine(text: str) -> None:
    need(ENGINES["ironcalc"])
    with pytest.raises(NotListed):
        evaluate(text, "ironcalc")


class sealed:  # noqa: N801
    """While it lasts, running code, starting programs and opening files fail the test."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.patch = monkeypatch

    def __enter__(self) -> None:
        def broken(*_: object, **__: object) -> None:
            raise AssertionError("the formula was executed")

        for module, names in (
            (builtins, ("eval", "exec", "open")),
            (os, ("system", "popen")),
            (subprocess, ("Popen", "run")),
            (importlib, ("import_module",)),
        ):
            for name in names:
                self.patch.setattr(module, name, broken)

    def __exit__(self, *_: object) -> None:
        self.patch.undo()


def test_the_seal_can_break(monkeypatch: pytest.MonkeyPatch) -> None:
    with sealed(monkeypatch), pytest.raises(AssertionError, match="executed"):
        os.system("true")


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("=1/0", DividedByZero),
        ("=1/(2-2)", DividedByZero),
        ('="a"+1', NotANumber),
        ('="a"+"b"', NotANumber),
        ('="a"*1000000000', NotANumber),
        ('=-"a"', NotANumber),
        ("=-{1;2}", NotANumber),
        ("={1;2}+{3;4}", NotANumber),
        ('=FERT.MEAN({1;"x"})', NotANumber),
        ("=FERT.MEAN({1;{2}})", NotANumber),
        ('=FERT.PERCENT("x")', NotANumber),
        ("=1e999", OutOfRange),
        ("=-1e999", OutOfRange),
        ("=" + "9" * 400, OutOfRange),
        ("=1e308*10", OutOfRange),
        ("=1e308+1e308", OutOfRange),
        ("=FERT.PERCENT(1e999)", OutOfRange),
        ("=FERT.PERCENT(0)", OutOfRange),
        ('=FERT.ELEMENT("XO",5)', NotListed),
        ("=FERT.MEAN({})", NotListed),
    ],
    ids=lambda each: repr(each)[:30],
)
@pytest.mark.parametrize("host", ["python", "ironcalc"])
def test_faults(text: str, fault: type[Fault], host: str) -> None:
    """The class that a cell would show, whichever host works it out."""
    if host in ENGINES:
        need(ENGINES[host])
    with pytest.raises(Fault) as caught:
        evaluate(text, host)
    assert isinstance(caught.value, fault) or host != "python"
    assert "\n" not in str(caught.value)


DEEP = {
    "brackets": "=" + "(" * 150 + "1" + ")" * 150,
    "minus signs": "=" + "-" * 8000 + "1",
    "sums": "=" + "1+" * 4000 + "1",
    "calls": "=" + "FERT.PERCENT(" * 400 + "1" + ")" * 400,
    "runs": "=FERT.MEAN(" + "{" * 150 + "1" + "}" * 150 + ")",
}


@pytest.mark.parametrize("kind", DEEP)
@pytest.mark.parametrize("host", ["python", "ironcalc"])
def test_deep_nesting_ends_well(kind: str, host: str) -> None:
    """A value where it can be worked out, else a clear refusal; never a crash or a long wait."""
    if host in ENGINES:
        need(ENGINES[host])
    began = time.monotonic()
    try:
        assert isinstance(evaluate(DEEP[kind], host), float)
    except Fault as fault:
        assert len(str(fault)) < 400
    assert time.monotonic() - began < 10


def test_very_long_text_is_refused_at_once() -> None:
    began = time.monotonic()
    with pytest.raises(NotListed, match="has 5000002 characters; a spreadsheet takes 8192"):
        evaluate("=" + "1+" * 2_500_000 + "1")
    assert time.monotonic() - began < 1


def test_an_unknown_host() -> None:
    with pytest.raises(NotListed, match="no host 'abacus'; choose from python, ironcalc"):
        evaluate("=1", "abacus")


def test_commas_in_a_formula_are_never_dropped() -> None:
    """A comma stands between arguments; among semicolons it could be a decimal sign."""
    for host in ("python", "ironcalc"):
        with pytest.raises(NotListed, match=r"write \{25\.1;24\.9\} or \{25;1;24;9\}"):
            evaluate("=FERT.MEAN({25,1;24,9})", host)
        with pytest.raises(NotListed, match="5 were given. A comma stands between arguments"):
            evaluate("=FERT.STOCKMASS(150,5,15.5,100,200)", host)
        assert evaluate('=FERT.MEAN({FERT.DILUTION(1,"in");3})', host) == 2.0
