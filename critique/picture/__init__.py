"""What is judged: a picture at the viewing size, and places on it."""
