"""The time of day as it goes into files: UTC, and fixed where a build asks for it."""

import os
from datetime import UTC, datetime


def now() -> str:
    """The present as RFC 3339 text in UTC to the second; see `moment`."""
    return moment().strftime("%Y-%m-%dT%H:%M:%SZ")


def moment() -> datetime:
    """The present in UTC.

    SOURCE_DATE_EPOCH (seconds since 1970, the reproducible-builds convention), where it is set
    to a whole number, takes the clock's place.
    """
    fixed = os.environ.get("SOURCE_DATE_EPOCH", "")
    if fixed.isascii() and fixed.isdigit() and len(fixed) < 12:
        return datetime.fromtimestamp(int(fixed), UTC)
    return datetime.now(UTC)
