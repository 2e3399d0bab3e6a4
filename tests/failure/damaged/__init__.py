"""Damaged and hostile inputs by the thousand: what is made, and how the program's behaviour is judged."""
