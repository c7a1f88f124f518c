"""The workbook "Fault finder": from a symptom by checks to what to do."""
