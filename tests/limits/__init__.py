"""Tests of the limit tables."""
