"""A dialect for XML exports, worked out from examples."""
