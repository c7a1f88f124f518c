"""What arrives of each target of a line, and how far off it is."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.columns import Table
from tanksheet.sheets.measures import unless_pass
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import feed_working as feed
from tanksheet.templates.recipe import target_working as target
from tanksheet.templates.recipe.elements import NAMES as ELEMENTS
from tanksheet.templates.recipe.elements import PATTERN
from tanksheet.templates.recipe.feed import NITROGEN, each
from tanksheet.templates.series import line_working as line
from tanksheet.templates.series import result_working as work
from tanksheet.templates.working import kind_of

HID: dict[str, Any] = {"hidden": True, "behind": True}
WHY = "not set by it"


def arrivals(table: Table) -> None:
    """What arrives of each target, and what is off."""

    def brought(i: int) -> tuple[Any, tuple[str, ...]]:
        if ELEMENTS[i] == "N":
            return target.delivered_nitrogen, ("doses", *(f"percent_{n}" for n in NITROGEN))
        return target.delivered_element, ("doses", f"percent_{ELEMENTS[i].lower()}")

    table.computed("from_stocks", 8, brought, pattern=PATTERN, known=NUMBER, **HID)
    both = each(feed.both, "from_stocks", "from_water")
    table.computed("together_exact", 10, both, known=NUMBER, **HID)
    shown = each(work.number_or_blank, "together_exact")
    looks: dict[str, Any] = {"pattern": PATTERN, "style": "worked out", "hidden": True}
    table.computed("together", 4, shown, **looks)
    offs = each(target.off_target, "together_exact", "wanted")
    table.computed("off_targets", 11, offs, pattern="0.0", **HID)
    why = lambda i: (line.named(WHY), ())  # noqa: E731
    table.computed("why", 14, why, known=TEXT, **HID)
    judged = ("wanted", "off_targets", ":tolerance", "why", "gaps")
    table.computed("met", 12, each(target.target_verdict, *judged), known=TEXT, **HID)
    said = each(unless_pass, "met")
    table.computed("met_said", 6, said, style="grid said", known=TEXT, hidden=True)
    away = each(target.off_said, "off_targets", "met")
    table.computed("off_said", 5, away, style="said right", known=TEXT, hidden=True)
    table.computed("met_kinds", 15, each(kind_of, "met"), known=TEXT, **HID)
