"""The format "report": one page for people, with everything in it."""
