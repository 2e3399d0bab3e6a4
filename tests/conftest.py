"""Here so that pytest puts tests/ on the path: shared test code is imported from there (tests/brute)."""
