"""A rig made of software: it hears what a real one would, and can never be taken for one."""
