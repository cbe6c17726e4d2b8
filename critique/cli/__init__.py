"""The commands: each parses, calls one function and prints."""
