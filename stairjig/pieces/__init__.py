"""The full-scale strips, each in its own frame in mm; nothing here knows of paper."""
