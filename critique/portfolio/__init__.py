"""Many pictures: reviewed once each, ranked, and seen as one body of work."""
