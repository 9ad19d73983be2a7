"""Trials of dialects: what of the first record was found, and what to change next."""
