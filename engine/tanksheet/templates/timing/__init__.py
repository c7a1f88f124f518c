"""The workbook "Timing": when feed arrives and leaves, and treatments that keep emitters open."""
