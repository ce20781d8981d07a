"""The fonts of the pack: DejaVu Sans Condensed, regular and bold (see LICENCE.txt)."""
