"""The formats "xlsx" and "sheet-table": workbooks, written and read."""
