"""Where things lie, for the rules that read files."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ENGINE = ROOT / "engine"
PACKAGE = ENGINE / "tanksheet"
PUBLISHED = ROOT / "tests" / "published"
# What LibreOffice's own Python must be able to run.
CORE = (
    *(PACKAGE / f"{name}.py" for name in ("__init__", "errors", "units", "subset", "tables")),
    PACKAGE / "definition.py",
    *(PACKAGE / "xlsx" / f"{name}.py" for name in ("__init__", "address")),
    *sorted((PACKAGE / "calc").glob("*.py")),
)


def engine_files() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def module_name(path: Path) -> str:
    """``tanksheet.calc.flow`` for engine/tanksheet/calc/flow.py."""
    parts = path.relative_to(ENGINE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
