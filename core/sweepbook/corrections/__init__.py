"""Corrections: what people know better than the tester did, beside the evidence, never in it."""
