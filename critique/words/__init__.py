"""Numbers, hues and lists in a sentence, one of each."""
