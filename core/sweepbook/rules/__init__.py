"""Rules: a catalogue as data, bound to small functions that yield findings."""
