"""Every command in the README does what it says there, from an empty environment.

The lines are read off the README and run in order in one folder, each as it stands, but for what
ADDED says. The lines of Python in it have a test of their own.
"""

from __future__ import annotations

import ast
import os
import re
import shlex
from pathlib import Path

import pytest
from openpyxl import Workbook

from fresh_environment import ROOT, run_there

README = (ROOT / "README.md").read_text(encoding="utf-8")
# What a test adds to a line, so as not to change this machine or to take minutes.
ADDED = {
    ("addin", "libreoffice"): ["--out", "fert.oxt"],  # else it installs, as root for everybody
    ("verify",): ["--cases", "2", "--no-edges"],
}
PROGRAMS = ("tanksheet ", "scripts/", "python3 ")
INSTALL = "python3 -m pip install ."


def code_blocks(text: str) -> list[list[str]]:
    """The indented blocks, without the comments at the ends of their lines."""
    blocks = re.findall(r"(?:^(?: {4}.*)?\n)+", text, re.MULTILINE)
    lines = [[re.split(r"\s+# ", line)[0].strip() for line in each.splitlines()] for each in blocks]
    return [found for each in lines if (found := [line for line in each if line])]


def is_for_the_shell(block: list[str]) -> bool:
    """Whether it holds command lines; if not it must be Python.

    Raises: SyntaxError where it is neither.
    """
    if block[0].startswith(PROGRAMS):
        return True
    ast.parse("\n".join(block))
    return False


def commands() -> list[list[str]]:
    found = []
    for block in code_blocks(README):
        if is_for_the_shell(block):
            found += [shlex.split(line) for line in block]
    return found


def test_the_readme_says_how_to_install_and_what_to_type() -> None:
    """Nothing in its blocks is of a kind that no test runs."""
    kinds = {" ".join(words) if words[0].startswith("python") else words[0] for words in commands()}
    assert kinds == {INSTALL, "tanksheet", "scripts/demo", "scripts/test"}
    verbs = {words[1] for words in commands() if words[0] == "tanksheet"}
    assert verbs >= {"list", "make", "run", "calc", "verify", "addin"}


def test_the_scripts_are_there_and_can_be_run() -> None:
    scripts = [words for words in commands() if words[0].startswith("scripts/")]
    assert all(os.access(ROOT / words[0], os.X_OK) for words in scripts)


def test_every_command_line_runs_as_it_stands(programs: Path, tmp_path: Path) -> None:
    book = Workbook()
    book.save(tmp_path / "my-farm.xlsx")
    for words in commands():
        if words[0] != "tanksheet":
            continue
        more = [each for verb, each in ADDED.items() if tuple(words[1:])[: len(verb)] == verb]
        line = [*words, *(more[0] if more else [])]
        done = run_there(programs, tmp_path, *line)
        # `run` says there what it understood of each setting, and nothing else may stand there.
        said = [each for each in done.stderr.splitlines() if not each.startswith("set ")]
        assert (done.returncode, said) == (0, []), (shlex.join(line), done.stdout)
        assert done.stdout, shlex.join(line)


def test_blocks_are_told_apart() -> None:
    text = "Words.\n\n    tanksheet list   # all\n    tanksheet make\n\nMore.\n\n    import json\n"
    assert code_blocks(text) == [["tanksheet list", "tanksheet make"], ["import json"]]
    assert [is_for_the_shell(block) for block in code_blocks(text)] == [True, False]
    with pytest.raises(SyntaxError):
        is_for_the_shell(["pip install tanksheet"])
