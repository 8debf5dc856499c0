"""Bytes to what each device then does: a reader only, which shares no code with what makes the bytes."""
