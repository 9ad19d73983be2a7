"""How records are to be read and judged, as the command line asked for."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from sweepbook.errors import SweepbookError


@dataclass(frozen=True)
class Asked:
    """What the options that commands share asked for; `options.asked` hands it over.

    Attributes:
        from_format: name of the format to read as.
        dialects: files of dialects, or names of installed ones.
        against: spelling of a limit.
        interpretations: decided readings, "ID=on" or "ID=off".
        accuracy: how the error terms of a tester are added up, where a record declares none.
        limits: files of limit tables besides the installed ones.
        project: file of what the job decided for itself.
        rules, without_rules: words for the rules to ask, and not to ask.
        workers: processes that assess the records of a book; None for as many as are worth it.
    """

    from_format: str | None = None
    dialects: tuple[str, ...] = ()
    against: str | None = None
    interpretations: tuple[str, ...] = ()
    accuracy: Literal["worst-case", "root-sum-square"] | None = None
    limits: tuple[Path, ...] = ()
    project: Path | None = None
    rules: tuple[str, ...] = ()
    without_rules: tuple[str, ...] = ()
    workers: int | None = None

    def files(self) -> tuple[Path, ...]:
        """The files that were named; the name of an installed dialect may be none."""
        own = () if self.project is None else (self.project,)
        return (*map(Path, self.dialects), *self.limits, *own)


NOTHING = Asked()


def switch(text: str) -> tuple[str, bool]:
    """Id of a disputed reading, and whether it shall be on.

    Raises:
        SweepbookError: the text is not of the form ID=on or ID=off.
    """
    name, mark, word = text.partition("=")
    if not mark or word not in ("on", "off"):
        raise SweepbookError(
            f"--interpretation {text!r} is not of the form ID=on or ID=off.",
            "See `sweepbook limits interpretations` for the ids.",
        )
    return name, word == "on"


def dialect_file(name: str) -> Path:
    """The file of a dialect that is not installed.

    Raises:
        SweepbookError: there is no such file.
    """
    path = Path(name)
    if path.is_dir():
        raise SweepbookError(
            f"{name!r} is a folder.",
            "Name the dialect, a .toml file, in it; --dialect may be given several times.",
        )
    if not path.exists():
        raise SweepbookError(
            f"There is no dialect file {name!r}, and no installed dialect of that name.",
            "Give the path of a .toml file; `sweepbook formats` lists the installed ones.",
        )
    return path
