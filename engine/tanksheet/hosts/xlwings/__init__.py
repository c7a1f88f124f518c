"""The functions in Excel with Python: a project folder for xlwings."""
