"""Recompute a record's margins from its sweeps and judge the stated verdict."""
