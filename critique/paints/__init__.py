"""The paint box: what real paints mix to."""
