"""Two editions of the same sources, side by side. Pure."""
