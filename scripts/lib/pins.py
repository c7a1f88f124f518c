"""Writes the hashes of constraints.txt: for each pinned version, of the wheel for every platform.

pip itself is asked, once for each Python and platform, what it would install; nothing is downloaded
but metadata. ``--upgrade`` takes the newest versions that the project's extras allow first.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tempfile
import tomllib
from collections import defaultdict
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from tanksheet.xlsx.writing import replace_file

ROOT = Path(__file__).parents[2]
PINS = ROOT / "constraints.txt"
PYTHONS = ("3.11", "3.12", "3.13", "3.14")
# Debian and Ubuntu on both kinds of processor, and a developer's Mac; newer systems take these too.
PLATFORMS = (
    ("manylinux_2_28_x86_64", "manylinux_2_17_x86_64"),
    ("manylinux_2_28_aarch64", "manylinux_2_17_aarch64"),
    ("macosx_14_0_arm64",),
    ("macosx_14_0_x86_64",),
)
# The extras name what the tests and checks use; these two install the rest.
INSTALLERS = ("pip", "setuptools")
HEAD = """\
# The exact versions that the tests run with, and the hash of each wheel for Linux and macOS: a
# package that was changed on its way is refused. scripts/lib/setup.sh installs these and no others.
# To add a package, name it in pyproject.toml; then, or to take newer versions of all: scripts/pin
# and scripts/pin --upgrade write this file.
"""


def main() -> None:
    chosen = report(wanted(), held=[] if "--upgrade" in sys.argv else versions_now())
    pins = {name: version for name, version, _ in chosen}
    lines = [f"{name}=={version}" for name, version in pins.items()]
    places = [(python, tags) for python in PYTHONS for tags in PLATFORMS]
    with ThreadPoolExecutor(2) as pool:
        found = pool.map(lambda place: report(lines, (), *place), places)
        hashes: dict[str, set[str]] = defaultdict(set)
        for answer in found:
            for name, _, sha256 in answer:
                hashes[name].add(sha256)
    text = HEAD
    for name in sorted(pins, key=str.lower):
        entry = [
            f"{name}=={pins[name]}",
            *(f"--hash=sha256:{each}" for each in sorted(hashes[name])),
        ]
        text += " \\\n    ".join(entry) + "\n"
    replace_file(PINS, text.encode())
    print(f"{PINS.name}: {len(pins)} packages, {sum(map(len, hashes.values()))} wheels")


def versions_now() -> list[str]:
    """The versions that the file names now."""
    return re.findall(r"^[\w.-]+==[^\s;\\]+", PINS.read_text(encoding="utf-8"), re.MULTILINE)


def wanted() -> list[str]:
    """What the project needs, with every extra, and what installs it."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras: list[list[str]] = list(project["optional-dependencies"].values())
    return [*INSTALLERS, *project["dependencies"], *(each for extra in extras for each in extra)]


def report(
    asked: list[str], held: Sequence[str] = (), python: str = "", tags: tuple[str, ...] = ()
) -> list[tuple[str, ...]]:
    """Name, version and SHA-256 of what pip would install, here or on another platform.

    ``held`` are versions to keep to where a package needs them.
    """
    there = ["--no-deps", "--python-version", python, "--implementation", "cp"] if python else []
    there += [word for tag in tags for word in ("--platform", tag)]
    with tempfile.TemporaryDirectory() as folder:
        answer = Path(folder, "report.json")
        for name, lines in {"asked": asked, "held": held}.items():
            Path(folder, name).write_text("\n".join(lines), encoding="utf-8")
        subprocess.run(
            [
                *(sys.executable, "-m", "pip", "install", "--quiet", "--no-input"),
                *("--disable-pip-version-check", "--dry-run", "--ignore-installed"),
                *("--only-binary", ":all:", "--target", folder, "--report", str(answer), *there),
                *("--requirement", str(Path(folder, "asked"))),
                *("--constraint", str(Path(folder, "held"))),
            ],
            check=True,
            # The index alone: no file that happens to lie on this machine.
            env={**os.environ, "PIP_CONFIG_FILE": os.devnull, "PIP_FIND_LINKS": ""},
        )
        found: list[dict[str, Any]] = json.loads(answer.read_text(encoding="utf-8"))["install"]
    return [
        (
            each["metadata"]["name"],
            each["metadata"]["version"],
            each["download_info"]["archive_info"]["hashes"]["sha256"],
        )
        for each in found
    ]


if __name__ == "__main__":
    main()
