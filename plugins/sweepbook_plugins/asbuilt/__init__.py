"""The format "as-built": a database of what was installed and tested."""

DICTIONARY = ".columns.csv"
"""What the name of the dictionary of columns adds to that of the database."""
TAKE_IN = ".take-in.sql"
"""What the name of the statements that take a delta in adds to that of the delta."""
