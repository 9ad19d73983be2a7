"""The format "as-built": a database of what was installed and tested."""
