"""What a job decided for itself: what it is, figures, rules left out, findings accepted."""
