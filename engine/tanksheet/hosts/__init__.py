"""Ways out of the register: the same calculations from Python and from spreadsheet engines."""
