"""The workbook "Commissioning": a list to tick when an injector starts; first readings."""
