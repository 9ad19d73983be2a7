"""Limits, interpretations and practice figures: data files, read into immutable values."""
