"""A file becomes light: reading, profiles, limits."""
