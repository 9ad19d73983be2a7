"""Archives by what is put into them."""

import io
import zipfile
from collections.abc import Callable


def zipped(fill: Callable[[zipfile.ZipFile], object]) -> bytes:
    """A ZIP archive, filled by a function."""
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as archive:
        fill(archive)
    return raw.getvalue()
