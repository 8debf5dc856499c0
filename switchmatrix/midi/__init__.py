"""MIDI as the standards have it: messages, wire time, time code. Knows no rig and no YAML."""
