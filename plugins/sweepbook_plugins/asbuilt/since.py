"""What `--since` names: a moment, or an earlier export."""

from datetime import UTC, date, datetime
from pathlib import Path

from sweepbook.database_url import IS_URL, DatabaseUrl
from sweepbook.errors import SweepbookError
from sweepbook.text import utf8_safe

Since = datetime | Path | DatabaseUrl
"""A moment in UTC, or the database of an earlier export."""


def since_of(text: str) -> Since:
    """What a text names: a day is meant from its first moment in UTC on.

    Raises:
        SweepbookError: it is no day, no time with an offset, no file and no URL.
    """
    if IS_URL.match(text):
        url = DatabaseUrl(text)
        return Path(text[len("sqlite:///") :]) if url.scheme == "sqlite" else url
    try:
        day = date.fromisoformat(text)
    except ValueError:
        pass
    else:
        return datetime(day.year, day.month, day.day, tzinfo=UTC)
    path = Path(text)
    if path.is_file():
        return path
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise SweepbookError(
            f"--since {utf8_safe(text)!r} is no day, no time, and no file that is there.",
            "Write a day (2026-03-01), a time (2026-03-01T12:00:00+01:00), or the path or the URL "
            "of an earlier export.",
        ) from None
    if moment.tzinfo is None:
        raise SweepbookError(
            f"--since {text} does not say by which clock.",
            f"Write the offset from UTC, such as {text}+01:00, or {text}Z.",
        )
    return moment.astimezone(UTC)


def shown(since: Since) -> str:
    """In words for people; never a password."""
    return since.isoformat() if isinstance(since, datetime) else utf8_safe(str(since))
