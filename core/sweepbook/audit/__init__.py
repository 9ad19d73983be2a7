"""A run over many records, and the document that says what came of it."""
