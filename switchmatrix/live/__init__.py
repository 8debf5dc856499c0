"""Ports, a process for each of them, and what plays on them live."""
