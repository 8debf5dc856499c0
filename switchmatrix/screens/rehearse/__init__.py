"""The screen of a rehearsal."""
