"""Threads: what a designation means, what follows by formula, and which tools belong to it."""
