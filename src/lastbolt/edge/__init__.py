"""Files, PDF, HTML, processes: everything that touches the world."""
