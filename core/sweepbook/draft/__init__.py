"""Drafts of dialects: what an export's own words, numbers and curves say of their meaning."""
