"""The Q222 irrigation pump engine, invented from end to end: its parts, its manual's text, its drawings."""
