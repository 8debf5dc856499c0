"""Nodes to model: names bound across files, each line to what it stands for."""
