"""What to know of Excel is said in the same words wherever people meet it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tanksheet.hosts.reference_page import ADVICE, page
from tanksheet.hosts.xlwings.project import project_files
from tanksheet.hosts.xlwings.texts import TRUST
from tanksheet.sheets import advice
from tanksheet.sheets.functions import functions_workbook
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.writing import read_parts

ROOT = Path(__file__).resolve().parents[2]


def plain(text: str) -> str:
    """In one line, without the indents that wrapping adds."""
    return " ".join(text.split())


@pytest.mark.parametrize("sentence", ADVICE)
def test_readme_and_reference_say_it_alike(sentence: str) -> None:
    assert sentence.count(". ") == 0 and sentence.endswith("."), "one sentence"
    assert f"- {sentence}" in plain(page())
    section = (
        (ROOT / "README.md")
        .read_text(encoding="utf-8")
        .partition("## The functions in your own workbook")[2]
    )
    assert f"- {sentence}" in plain(section.partition("\n## ")[0])


def test_the_note_of_the_xlwings_project_says_what_to_trust() -> None:
    assert TRUST in plain(project_files()["README.txt"])


@pytest.mark.parametrize("name", [*TEMPLATES, "functions"])
def test_the_sheets_say_what_to_know_of_excel(name: str) -> None:
    made = functions_workbook() if name == "functions" else workbook_bytes(book(name))
    text = "".join(part.decode() for part in read_parts(made).values())
    for sentence in advice.FOR_CELLS:
        assert sentence.replace("'", "&apos;") in text or sentence in text
