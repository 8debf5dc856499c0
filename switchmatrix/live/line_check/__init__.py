"""The line check: whether every device of a rig responds."""
