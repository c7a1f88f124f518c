"""The workbook "Ratio table": what stands where, and its working."""
