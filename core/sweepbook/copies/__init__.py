"""Tests that are copies of another: found by a fingerprint, confirmed on the sweeps themselves."""
