"""Figures of common practice that no document sets; a project may bring its own."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from sweepbook.errors import SweepbookError


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: its value in `unit`, what it is for and where it comes from."""

    name: str
    value: float
    unit: str
    title: str
    why: str
    source: str


@dataclass(frozen=True, slots=True, eq=False)
class Practice:
    """The figures by name, with the digest of their file; what follows is kept by its identity."""

    figures: Mapping[str, Figure]
    sha256: str

    @staticmethod
    @cache
    def shipped() -> "Practice":
        """The figures that come with the program."""
        return _figures(files("sweepbook_schemas").joinpath("practice.json").read_bytes())

    @staticmethod
    def load(path: Path | None = None) -> "Practice":
        """Read the figures.

        Args:
            path: a project's own file, which must hold every figure; None for those that come
                with the program.

        Raises:
            SweepbookError: the file cannot be read, or does not hold exactly the figures asked.
        """
        shipped = Practice.shipped()
        if path is None:
            return shipped
        try:
            own = _figures(path.read_bytes())
        except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
            raise SweepbookError(
                f"{path.name} holds no practice figures that can be read: {error}.",
                "Copy practice.json of the program and change the values only.",
            ) from error
        if set(own.figures) != set(shipped.figures):
            odd = ", ".join(sorted(set(own.figures) ^ set(shipped.figures)))
            raise SweepbookError(
                f"{path.name} lacks or adds figures: {odd}.",
                "Copy practice.json of the program and change the values only.",
            )
        return own

    @staticmethod
    def kept(path: Path) -> tuple["Practice", tuple[str, ...]]:
        """Figures that were put aside, perhaps by another version of the program.

        Returns:
            The figures, and the names of those that are the program's own, since the file lacks
            them.

        Raises:
            SweepbookError: the file cannot be read.
        """
        shipped = Practice.shipped()
        try:
            own = _figures(path.read_bytes())
        except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
            raise SweepbookError(
                f"{path.name} holds no practice figures that can be read: {error}.",
                "Restore it from a copy, or use the version of sweepbook that wrote it.",
            ) from error
        lacking = tuple(name for name in shipped.figures if name not in own.figures)
        figures = {**own.figures, **{name: shipped.figures[name] for name in lacking}}
        return replace(own, figures=figures), lacking

    def with_values(self, values: Mapping[str, float]) -> "Practice":
        """The figures, some of them with other values; the digest stays that of the file.

        Raises:
            SweepbookError: there is no figure of one of the names.
        """
        for name in values:
            self.value(name)  # a wrong name is told with the right ones
        own = {name: replace(self.figures[name], value=new) for name, new in values.items()}
        return replace(self, figures={**self.figures, **own})

    def value(self, name: str) -> float:
        """One figure, in its unit.

        Raises:
            SweepbookError: there is no figure of this name.
        """
        if name not in self.figures:
            raise SweepbookError(
                f"There is no practice figure {name!r}.", f"Use one of: {', '.join(self.figures)}."
            )
        return self.figures[name].value


def _figures(raw: bytes) -> Practice:
    entries: dict[str, dict[str, Any]] = json.loads(raw)["figures"]
    figures = {name: Figure(name=name, **entry) for name, entry in entries.items()}
    for figure in figures.values():
        if not isinstance(figure.value, int | float):
            raise TypeError(f"{figure.name} is not a number")
    return Practice(figures, hashlib.sha256(raw).hexdigest())
