"""Certification records of structured cabling: read, kept, re-judged from the raw sweeps."""

__version__ = "0.1.0"
