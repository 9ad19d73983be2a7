"""How fast it is, each figure as a ratio to a named floor that is measured in the same run."""
