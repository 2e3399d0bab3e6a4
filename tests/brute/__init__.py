"""Plain counting: what the tally's answer must be, found by visiting everything. No solver, no cleverness."""
