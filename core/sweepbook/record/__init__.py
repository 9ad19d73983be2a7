"""The record: one test of one link, as evidence that is never changed."""
