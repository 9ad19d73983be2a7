"""Dialects: data that map the words of an export to those of a record."""
