"""A file becomes light: readers and profiles; the canvas found and straightened, its light balanced, and fitness."""
