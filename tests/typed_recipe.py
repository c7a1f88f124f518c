"""A recipe whose amounts a person typed: a tomato feed for tanks of 100 L at 1:100, invented."""

from __future__ import annotations

from typing import Any

LINES: tuple[tuple[str, str, float, str], ...] = (
    ("calcium nitrate 15.5-0-0", "A", 8.0, "kg"),
    ("potassium nitrate", "A", 2.0, "kg"),
    ("iron DTPA 11 %", "A", 180.0, "g"),
    ("potassium nitrate", "B", 3.0, "kg"),
    ("monopotassium phosphate", "B", 1.8, "kg"),
    ("magnesium sulfate heptahydrate", "B", 4.5, "kg"),
    ("manganese sulfate monohydrate", "B", 17.0, "g"),
    ("boric acid", "B", 17.0, "g"),
    ("zinc sulfate heptahydrate", "B", 11.0, "g"),
    ("copper sulfate pentahydrate", "B", 2.0, "g"),
    ("sodium molybdate dihydrate", "B", 1.2, "g"),
    ("nitric acid 60 %", "C", 0.5, "L"),
)
TARGETS = [195.0, 40.0, 250.0, 170.0, 45.0, 60.0, 2.0, 0.55, 0.25, 0.05, 0.3, 0.05]


def typed_recipe(**others: Any) -> dict[str, Any]:
    """Entries of the workbook; ``others`` go over them."""
    products, tanks, amounts, units = (list(column) for column in zip(*LINES, strict=True))
    made: dict[str, Any] = {
        "products": products,
        "tanks": tanks,
        "amounts": amounts,
        "amount_units": units,
        "targets": [*TARGETS, None, None, None],
        "target_alkalinity": None,
    }
    return made | others
