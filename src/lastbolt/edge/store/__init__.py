"""The records of all jobs on disk."""
