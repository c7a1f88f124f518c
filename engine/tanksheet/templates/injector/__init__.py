"""The injector workbook: which unit fits zones and duty, alone, as a pair or on a bypass."""
