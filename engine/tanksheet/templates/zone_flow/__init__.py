"""The workbook "Zone flow": what stands where, and its working."""
