"""The workbook "Series": two or three injectors on one line, what stands where, and its working."""
