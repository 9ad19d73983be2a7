"""Exports of layouts drawn at random, in ten languages, with the truth they were written from."""
