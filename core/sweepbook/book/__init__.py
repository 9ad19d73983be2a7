"""The book: a folder that keeps records, their sources and a journal of how they came in."""
