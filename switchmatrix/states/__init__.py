"""Scenes to full states: layers laid down, absent devices translated, note values worked out."""
