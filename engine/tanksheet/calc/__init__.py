"""The calculations, one file a topic.

TOPICS is the order in which one topic may use another: only those before it.
"""

from __future__ import annotations

import importlib

TOPICS = (
    "convert",
    "flow",
    "ratio",
    "stock",
    "water",
    "saturation",
    "conductivity",
    "acidity",
    "feed",
    "meter",
    "mixing",
    "struvite",
    "brine",
    "crystals",
    "field",
    "cost",
    "arrival",
    "proving",
    "cleaning",
    "choosing",
    "upkeep",
)


def load_all() -> None:
    """Imports every topic, so that the register is full."""
    for topic in TOPICS:
        importlib.import_module(f"{__name__}.{topic}")
