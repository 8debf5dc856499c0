"""Compile a touring rig's scenes into exact MIDI messages."""

__version__ = "0.1.0"
