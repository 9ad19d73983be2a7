"""The format "touchstone": S-parameters of balanced links, by the open file specification."""
