"""A judgement walked through by hand, for whoever asks why."""
