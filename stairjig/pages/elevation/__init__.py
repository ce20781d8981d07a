"""A section drawn to scale in elevation and in plan, with the dimensions to check by eye."""
