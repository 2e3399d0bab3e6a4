"""Putting back: what is still off, what is slack, what was left in, and when it is finished."""
