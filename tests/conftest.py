"""What tests of several folders start from."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from .program import DEMO, DIALECTS, run

# A busy machine is no fault of the code: no example has a time to keep.
settings.register_profile(
    "any-machine", deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("any-machine")


@pytest.fixture(scope="session")
def demo_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of all of the demo. Do not write to it."""
    folder = tmp_path_factory.mktemp("demo-book") / "book"
    assert run("gather", folder, DEMO / "exports", *DIALECTS).exit_code == 0
    return folder
