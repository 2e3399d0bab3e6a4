"""The words of the language by which the order of the way back is known, as data."""

import tomllib
from functools import lru_cache
from importlib import resources


@lru_cache(maxsize=1)
def order_words() -> dict[str, tuple[str, ...]]:
    """Everything in `back_order.toml`."""
    found = tomllib.loads((resources.files("lastbolt.planning") / "back_order.toml").read_text("utf-8"))
    return {name: tuple(some) for name, some in found.items() if isinstance(some, list)}
