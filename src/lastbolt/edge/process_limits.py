"""Bounds on the memory of a process that reads what may be hostile."""

import contextlib


def limit_memory(memory_MB: int) -> None:
    """Bind this process to its memory, and let it leave no core file."""
    try:
        import resource
    except ImportError:  # not a POSIX system: the parent's time limit still holds
        return
    for name, value in (("RLIMIT_AS", memory_MB * 2**20), ("RLIMIT_CORE", 0)):
        which = getattr(resource, name)
        _, hard = resource.getrlimit(which)
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(which, (value if hard < 0 else min(value, hard), hard))
