"""The helper's steps, each with its small drawing."""
