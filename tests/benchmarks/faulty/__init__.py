"""Faults that painters make, put into good pictures by code."""
