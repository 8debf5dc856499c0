"""Rigs, songs, legs and shows, bound: every name stands for the thing it names."""
