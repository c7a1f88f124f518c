"""The workbook "Water report": what stands where, and its working."""
