"""The cover: what the pack is, its sections drawn, what is checked, ordered and printed."""
