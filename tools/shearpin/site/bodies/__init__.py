"""Page bodies, one module for each group of kinds."""
