"""Hidden names count: they are out of the list that people read, not out of the workbook.

ECMA-376 part 1, 18.2.5: ``hidden`` says only whether the name is shown in the user interface.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import Workbook
from openpyxl.workbook.defined_name import DefinedName

from engines_needed import need
from tanksheet.recalc import ENGINES
from tanksheet.xlsx.address import Address
from tanksheet.xlsx.reading import Package


@pytest.mark.parametrize("name", ENGINES)
def test_every_engine_follows_a_hidden_name(name: str, tmp_path: Path) -> None:
    book = Workbook()
    book.active.title = "Mix"
    book.active["A1"], book.active["B1"] = 4, "=twice*10"
    book.active["A2"] = "=A1*2"
    book.defined_names["twice"] = DefinedName("twice", hidden=True, attr_text="Mix!$A$2")
    path = tmp_path / "hidden.xlsx"
    book.save(path)
    assert list(Package(path).hidden_names) == ["twice"]
    need(ENGINES[name])
    wanted = Address("Mix", 1, 2)
    with ENGINES[name].open(path) as session:
        assert session.calculate({Address("Mix", 1, 1): 7.0}, [wanted]) == {wanted: 140.0}
