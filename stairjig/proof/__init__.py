"""What a finished PDF says, read back by code that shares nothing with what wrote it."""
