"""The proof: what is compiled, held against a rig that only hears the bytes."""
