"""The formats "csv" and "csv-table": sweep exports and tables of texts as CSV."""
