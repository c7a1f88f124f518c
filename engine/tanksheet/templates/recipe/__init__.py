"""The workbook "Recipe": what stands where, and its working."""
