"""Readings, their uncertainty, and what they decide against limits. Pure."""
