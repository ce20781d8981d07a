"""The blank measuring form, every measure with where to put the tape."""
