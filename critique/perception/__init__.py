"""The ruler: colour spaces, colour difference, hue bands and the names of colours."""
