"""A photograph becomes a Picture."""
