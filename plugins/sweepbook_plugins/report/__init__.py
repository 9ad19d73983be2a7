"""The format "report": one page for people, with everything in it."""

PLOTS, PLOTS_OF = "plots", "plots-of"
"""The options of the command line, as a delivery has them."""
