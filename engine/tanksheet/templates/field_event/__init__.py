"""The workbook "Field event": one fertigation of an area, what stands where, and its working."""
