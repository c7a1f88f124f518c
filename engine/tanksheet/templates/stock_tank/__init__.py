"""The workbook "Stock tank": what stands where, and its working."""
