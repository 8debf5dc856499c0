"""YAML text to nodes with places, and their shape."""
