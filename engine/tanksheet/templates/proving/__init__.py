"""The workbook "Proving": tests of an injector over time, and how evenly emitters feed."""
