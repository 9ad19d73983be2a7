"""The format "json": records as they are."""
