"""An empty virtual environment with the built wheel, as on a stranger's machine.

By default nothing comes from outside: the environment is given links to those packages of the
tests' own environment that the wheel's default dependencies name, directly or through one another,
and to no others. That proves that the wheel carries its files and names what it needs. That an
index gives those packages is proved by the same tests with TANKSHEET_FROM_INDEX=1, as ``.ci/run``
runs them: then pip installs the wheel from the index, in the versions of constraints.txt.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import venv
from importlib.metadata import Distribution, distribution, distributions
from pathlib import Path

from packaging.requirements import Requirement

ROOT = Path(__file__).resolve().parents[2]
FROM_INDEX = "TANKSHEET_FROM_INDEX"
SECONDS = 900


def build_wheel(folder: Path) -> Path:
    """The wheel of this project, built from a copy so that the build leaves nothing behind."""
    source = folder / "source"
    ignored = shutil.ignore_patterns("__pycache__", "*.egg-info")
    shutil.copytree(ROOT / "engine", source / "engine", ignore=ignored)
    for name in ("pyproject.toml", "LICENSE", "README.md"):
        shutil.copy(ROOT / name, source)
    pip("wheel", "--no-build-isolation", "--no-deps", "--wheel-dir", str(folder), str(source))
    (wheel,) = folder.glob("*.whl")
    return wheel


def make_environment(folder: Path, wheel: Path) -> Path:
    """The folder of an environment's programs, with the wheel installed as a user would."""
    environment = folder / "environment"
    venv.create(environment, with_pip=False)
    python = environment / "bin" / "python"
    if os.environ.get(FROM_INDEX) == "1":
        pins = folder / "pins.txt"
        pinned = (ROOT / "constraints.txt").read_text(encoding="utf-8")
        pins.write_text("\n".join(re.findall(r"^[\w.-]+==[^\s;\\]+", pinned, re.M)))
        pip("--python", str(python), "install", "--constraint", str(pins), str(wheel))
    else:
        pip("--python", str(python), "install", "--no-index", "--no-deps", str(wheel))
        link_packages(environment)
    return python.parent


def needed_by(package: Distribution, found: dict[str, Distribution]) -> dict[str, Distribution]:
    """The packages that a package needs without extras, and those that they need."""
    for text in package.requires or []:
        wanted = Requirement(text)
        here = wanted.marker is None or wanted.marker.evaluate({"extra": ""})
        if here and wanted.name not in found:
            found[wanted.name] = distribution(wanted.name)
            needed_by(found[wanted.name], found)
    return found


def pip(*arguments: str) -> None:
    """This environment's pip; what it says is shown only if it fails."""
    quiet = ("--quiet", "--disable-pip-version-check", "--no-input")
    done = subprocess.run(
        [sys.executable, "-m", "pip", *quiet, *arguments],
        capture_output=True,
        check=False,
        text=True,
        timeout=SECONDS,
    )
    assert done.returncode == 0, done.stdout + done.stderr


def link_packages(environment: Path) -> None:
    """Links to what the installed wheel says that it needs."""
    (target,) = environment.glob("lib/python*/site-packages")
    (installed,) = distributions(path=[str(target)])
    for package in needed_by(installed, {}).values():
        tops = {file.parts[0] for file in package.files or []} - {"..", "__pycache__"}
        for top in tops:
            (target / top).symlink_to(package.locate_file(top))  # type: ignore[arg-type]


def run_there(programs: Path, folder: Path, *command: str) -> subprocess.CompletedProcess[str]:
    """Runs one of the environment's programs in a folder, with nothing of ours on any path."""
    kept = {key: value for key, value in os.environ.items() if not key.startswith("PYTHON")}
    return subprocess.run(
        [str(programs / command[0]), *command[1:]],
        cwd=folder,
        capture_output=True,
        check=False,
        env=kept,
        stdin=subprocess.DEVNULL,
        text=True,
        timeout=SECONDS,
    )
