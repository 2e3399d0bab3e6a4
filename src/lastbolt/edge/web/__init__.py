"""Pages in a browser on this machine: the server, who may ask it, and what it shows."""
