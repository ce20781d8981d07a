"""Strips cut into tiles and laid on sheets, in mm; nothing here knows of PDF."""
