"""Exports of layouts that nobody has seen: made by chance out of choices, drafted, read, compared."""
