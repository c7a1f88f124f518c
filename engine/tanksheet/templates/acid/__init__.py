"""The workbook "Acid": what stands where, and its working."""
