"""Full-scale paper strips that mark every baluster on the treads and under the handrail."""

__version__ = "0.1.0"
