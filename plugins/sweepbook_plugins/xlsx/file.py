"""Opening a workbook so that a full disk is one error, and nothing is left lying about."""

import io
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

OPTIONS = {
    "constant_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
    "nan_inf_to_errors": False,
}


class Sink(io.BufferedWriter):
    """A file that keeps its first error for later and swallows what comes after.

    An archive that meets an error while it is written complains once more when its memory is
    freed, where nobody can catch it; so it meets none.
    """

    failure: OSError | None = None

    def write(self, data: Any) -> int:  # noqa: ANN401 - any bytes-like object
        """Write, or seem to."""
        return int(self._tried(super().write, data, instead=len(data)))

    def seek(self, offset: int, whence: int = 0) -> int:
        """Move, or seem to."""
        return int(self._tried(super().seek, offset, whence, instead=offset))

    def flush(self) -> None:
        """Hand over what is buffered, or seem to."""
        self._tried(super().flush, instead=None)

    def _tried(self, call: Callable[..., Any], *arguments: Any, instead: Any) -> Any:  # noqa: ANN401
        if self.failure is None:
            try:
                return call(*arguments)
            except OSError as error:
                self.failure = error
        return instead


@contextmanager
def opened(part: Path) -> Iterator[Any]:
    """A workbook of xlsxwriter's, put together on leaving, unless something was raised.

    Rows wait in a temporary folder until then, so that memory stays flat.

    Raises:
        OSError: the file cannot be written, or a disk is full.
    """
    from tempfile import TemporaryDirectory

    from xlsxwriter import Workbook

    with TemporaryDirectory(prefix="sweepbook-") as folder, _sink(part) as sink:
        workbook = Workbook(sink, {**OPTIONS, "tmpdir": folder})
        workbook.use_zip64()  # takes effect only where the file needs it
        try:
            yield workbook
            _put_together(workbook)
        finally:
            for sheet in workbook.worksheets():
                with suppress(OSError):
                    sheet.row_data_fh.close()  # else only when the memory is freed


@contextmanager
def _sink(part: Path) -> Iterator[Sink]:
    sink = Sink(io.FileIO(part, "w"))
    try:
        yield sink
        sink.flush()
        if sink.failure:
            raise sink.failure
    finally:
        with suppress(OSError):  # what it could not write was raised above
            sink.close()


def _put_together(workbook: Any) -> None:  # noqa: ANN401
    """Close the workbook; an error of the system stays what it was."""
    from xlsxwriter.exceptions import FileCreateError

    try:
        workbook.close()
    except FileCreateError as error:
        raise error.args[0] from error
