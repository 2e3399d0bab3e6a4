"""Shims and selective parts from stock. Pure."""
