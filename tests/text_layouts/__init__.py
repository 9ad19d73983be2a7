"""Exports of layouts made by chance out of choices: drafted, read by the draft, and compared."""
