"""Tests of one link held against each other, end by end."""
