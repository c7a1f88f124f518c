"""The workbook "Upkeep": what the injector needs next, spare kits, lists for winter and spring."""
