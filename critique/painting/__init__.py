"""The folder that each painting has: its results, what was made before them, and the page that leads to all of it."""
