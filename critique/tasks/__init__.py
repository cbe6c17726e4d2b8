"""What a painter asks of one picture, end to end."""
