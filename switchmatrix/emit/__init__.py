"""Files for people and machines, one artefact a file."""
