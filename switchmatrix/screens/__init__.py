"""Screens of the terminal; what they show is worked out as plain rows, and drawn in one place."""
