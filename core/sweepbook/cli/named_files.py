"""Files that a command line names one by one or by the folder that they are in."""

from collections.abc import Callable, Sequence
from pathlib import Path

from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.inputs import files_of
from sweepbook.text import utf8_safe

Choice = Callable[[Sequence[str]], Sequence[int]]


def named_files(paths: Sequence[Path], choice: Choice | None = None) -> tuple[Path, ...]:
    """The files that are named, with those in a folder in its place.

    Args:
        paths: files and folders that are there.
        choice: gives the positions of the files of a folder to take, by their names from there;
            all are taken without it.

    Raises:
        SweepbookError: a folder has no file, or one that is none.
    """
    found: dict[Path, None] = {}
    for path in paths:
        inside = _inside(path) if path.is_dir() else [path]
        if choice is not None and path.is_dir():
            names = [one.relative_to(path).as_posix() for one in inside]
            inside = [inside[at] for at in choice(names)]
        found |= dict.fromkeys(inside)
    return tuple(found)


def _inside(folder: Path) -> list[Path]:
    """The files of a folder.

    Raises:
        SweepbookError: it has none, or what is none.
    """
    files: list[Path] = []
    for one in files_of([folder]):
        if isinstance(one, ReadProblem):
            raise SweepbookError(f"{one.source}: {one.message}", "Name the files one by one.")
        files.append(one)
    if not files:
        raise SweepbookError(
            f"There is no file in {utf8_safe(str(folder))}.",
            "Name the files of an export, or the folder that they are in.",
        )
    return files
