"""Styles kept back from everybody who writes rules of the reader."""
