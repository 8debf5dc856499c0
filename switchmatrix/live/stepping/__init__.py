"""Rehearsal without its screen and ports: a show made ready, a state machine, pedals, time code, the log."""
