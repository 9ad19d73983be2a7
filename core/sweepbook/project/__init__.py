"""What a job decided for itself: figures, rules left out, findings accepted."""
