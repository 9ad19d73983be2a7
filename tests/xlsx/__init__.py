"""The workbook, read back by another library and as bare XML."""
