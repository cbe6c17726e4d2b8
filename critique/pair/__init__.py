"""What can be said of two pictures and more."""
