"""The wheel and an environment that has it, made once."""

from __future__ import annotations

from pathlib import Path

import pytest

from fresh_environment import build_wheel, make_environment


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build_wheel(tmp_path_factory.mktemp("wheel"))


@pytest.fixture(scope="session")
def programs(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where ``tanksheet`` and ``python`` of the fresh environment lie."""
    return make_environment(tmp_path_factory.mktemp("fresh"), wheel)
