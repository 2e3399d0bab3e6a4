"""The server of a class at work: benches send events, everybody sees what they come to."""
