"""The workbook "Season": up to 52 weeks of feeding an area, what stands where, and its working."""
