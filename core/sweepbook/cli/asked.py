"""How records are to be read and judged, as the command line asked for."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Asked:
    """What the options that commands share asked for; `options.asked` hands it over.

    Attributes:
        from_format: name of the format to read as.
        dialects: files of dialects, or names of installed ones.
        against: spelling of a limit.
        interpretations: decided readings, "ID=on" or "ID=off".
        limits: files of limit tables besides the installed ones.
    """

    from_format: str | None = None
    dialects: tuple[str, ...] = ()
    against: str | None = None
    interpretations: tuple[str, ...] = ()
    limits: tuple[Path, ...] = ()

    def files(self) -> tuple[Path, ...]:
        """The files that were named; the name of an installed dialect may be none."""
        return (*map(Path, self.dialects), *self.limits)


NOTHING = Asked()
