"""The tables and readings that come with the program, read once."""

import pytest

from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library


@pytest.fixture(scope="session")
def library() -> Library:
    return Library.load()


@pytest.fixture(scope="session")
def readings() -> Interpretations:
    return Interpretations.load()
