"""Here so that pytest puts tests/ on the path: shared test code is imported from there (tests/brute)."""

import pytest


@pytest.fixture(autouse=True, scope="session")
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> object:
    """Nothing that a test reads is kept in the user's cache."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        yield
