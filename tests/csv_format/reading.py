"""Reads small CSV files by small dialects, for the tests beside it."""

from pathlib import Path

from sweepbook.dialect.model import Dialect
from sweepbook_plugins.csv import sweeps as csv_sweeps
from tests.reading import Result, read_by


def read(
    folder: Path, content: str | bytes, dialect: str | Dialect, name: str = "export.csv"
) -> Result:
    """Write a file, read it by a dialect, and sort what comes."""
    return read_by(csv_sweeps.read, csv_sweeps.check_dialect, folder / name, content, dialect)
