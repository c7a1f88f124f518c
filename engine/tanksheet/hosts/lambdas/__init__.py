"""The functions in Excel with nothing installed: LAMBDA names in a workbook."""
