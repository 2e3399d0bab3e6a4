"""An invented machine, its documents and its answer key: for the demo and for end-to-end tests only."""
