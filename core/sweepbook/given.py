"""The files that are given to be read: where each lies, and those of a name among them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sweepbook.source import Source


@dataclass
class Given:
    """Files by their names; they are looked through once, however often they are asked for."""

    _files: Iterable[Source] = ()
    _named: dict[str, list[Source]] = field(default_factory=dict)

    def named(self, names: Sequence[str], files: Iterable[Source]) -> list[Source]:
        """Those that have one of some names, or paths of one depth that end in one, in order.

        Args:
            names: without a folder, or all with as many.
            files: all that are given.
        """
        if files is not self._files:
            self._files, self._named = files, {}
            for each in files:
                self._named.setdefault(each.file_name, []).append(each)
        last = dict.fromkeys(name.rpartition("/")[2] for name in names)
        found = [each for name in last for each in self._named.get(name, [])]
        return [each for each in found if name_in(each, names[0]) in names]


def path_of(source: Source) -> Path:
    """Where a file lies, from the root of all folders; within an archive as if it were one."""
    path = source.folder / source.file_name
    return path if path.is_absolute() else path.absolute()


def name_in(source: Source, form: str) -> str:
    """The name of a file, with as many of the folders around it as a form has."""
    depth = form.count("/")
    return "/".join(path_of(source).parts[-1 - depth :]) if depth else source.file_name
