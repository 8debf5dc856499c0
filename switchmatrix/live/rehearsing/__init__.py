"""A rehearsal at work: the stepping core between ports, a log and whoever drives it; no screen."""
