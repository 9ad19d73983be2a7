"""What has to be tested again, why, and where somebody may look first."""
