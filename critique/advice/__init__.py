"""What the measures mean for the painter, and what to do about it."""
