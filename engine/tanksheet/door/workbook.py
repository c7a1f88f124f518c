"""Temporary."""


class OpenWorkbook: ...


def open_workbook(path: str) -> OpenWorkbook: ...
