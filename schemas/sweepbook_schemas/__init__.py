"""Schemas, limit tables, interpretations, practice figures and the rule catalogue, as data."""
