"""Every folder of tests is in pytest's list, so that none is forgotten."""

from __future__ import annotations

import tomllib
from pathlib import Path

from rules_ground import ROOT


def forgotten(root: Path, listed: list[str]) -> set[str]:
    """Folders with tests that the list leaves out."""
    folders = {path.parent.relative_to(root).as_posix() for path in root.glob("tests/*/test_*.py")}
    return folders - set(listed)


def test_every_folder_is_listed() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    listed = settings["tool"]["pytest"]["ini_options"]["testpaths"]
    assert forgotten(ROOT, listed) == set()
    assert forgotten(ROOT, listed[:-1]) == {listed[-1]}
