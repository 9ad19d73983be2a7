"""Rules: a catalogue as data, and small functions that look."""
