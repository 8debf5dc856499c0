"""Findings: the value, its names with their manual pages, and one renderer a file."""
