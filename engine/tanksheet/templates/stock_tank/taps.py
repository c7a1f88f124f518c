"""What the stock tank workbook asks at the taps: does the meter agree, and the drawdown test."""

from __future__ import annotations

from tanksheet.sheets.inputs import Doubt
from tanksheet.sheets.page import Page
from tanksheet.templates.stock_tank import working as work
from tanksheet.templates.verdicts import Verdicts


def by_meter(page: Page, verdicts: Verdicts) -> None:
    page.section("Does the EC meter agree?")
    page.input("ec_water", "Plain water reads", "ec_water", 0.4, "mS/cm", usual=(0, 3))
    page.input("ec_target", "The feed should read", "ec_target", 1.9, "mS/cm", usual=(0.2, 6))
    page.input(
        "ec_measured",
        "The feed reads at the emitter",
        "ec_measured",
        2.02,
        "mS/cm",
        usual=(0, 10),
        optional=True,
        doubt=Doubt(work.no_stronger_than_water, ("ec_water",)),
    )
    page.note(
        "What it should read: from the label's table, or mix a bucket by hand at the set "
        "ratio and read that."
    )
    _meter_results(page, verdicts)


def _meter_results(page: Page, verdicts: Verdicts) -> None:
    page.result(
        "ratio_by_meter",
        "It feeds as if set to 1 :",
        work.ratio_read,
        ratio="ratio_set",
        may_be_words=True,
        unit="parts",
    )
    page.result(
        "feed_error",
        "Over (+) or under (-) by",
        work.error_by_meter,
        ratio="ratio_set",
        may_be_words=True,
        unit="%",
    )
    page.result(
        "new_ratio",
        "Set the injector to 1 :",
        work.new_setting,
        may_be_words=True,
        unit="parts",
        ratio="ratio_set",
    )
    page.result(
        "new_percent",
        "... or in percent",
        work.new_in_percent,
        may_be_words=True,
        unit="%",
        pattern="0.000",
    )
    verdicts.add("meter_check", "Verdict by meter", work.meter_verdict)
    page.gap()


def by_drawdown(page: Page, verdicts: Verdicts) -> None:
    page.section("Drawdown test")
    page.input(
        "test_water",
        "Water that passed",
        "water",
        100,
        "L",
        usual=(10, 10000),
        optional=True,
        us=(25, "gal"),
    )
    page.input(
        "test_stock",
        "Stock drawn meanwhile",
        "stock",
        0.97,
        "L",
        usual=(0.01, 100),
        us=(31, "fl oz"),
    )
    page.result(
        "tested_ratio", "True ratio 1 :", work.ratio_by_test, may_be_words=True, unit="parts"
    )
    verdicts.add("drawdown_check", "Verdict by drawdown", work.drawdown_verdict, ratio="ratio_set")
