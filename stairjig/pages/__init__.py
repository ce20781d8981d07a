"""The pack's pages of words and drawings, as values in mm; nothing here knows of PDF."""
