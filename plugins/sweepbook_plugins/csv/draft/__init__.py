"""A dialect for CSV exports, worked out from examples."""
