"""A very small invented machine: four pages and ten rows, for first runs and quick tests."""
