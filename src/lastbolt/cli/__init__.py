"""The commands: the one place where files, programs and the pure core are put together."""
