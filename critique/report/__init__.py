"""The page, the plates and the record of a review."""
