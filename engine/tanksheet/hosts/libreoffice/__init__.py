"""The functions in LibreOffice: an extension, and how it is installed."""
