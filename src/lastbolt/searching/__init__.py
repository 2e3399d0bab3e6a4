"""Words of all sources -> where they stand: an index of every word, and what a search finds in it."""
