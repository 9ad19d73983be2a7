"""Judging, held to arithmetic by hand and to outside references."""
