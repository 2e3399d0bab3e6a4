"""The commands: the one place where files, programs and the pure core are put together."""

from lastbolt.cli.main import main

__all__ = ["main"]
