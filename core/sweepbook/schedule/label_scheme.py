"""A label scheme: what labels say of the ends of links, as a project declares it."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sweepbook import toml
from sweepbook.errors import SweepbookError
from sweepbook.inputs import bytes_of, what_to_do
from sweepbook.label_template import Misfit, Template, filled, names, taken_apart, template
from sweepbook.schedule.model import LEVELS, End

SCHEMA = "label-scheme-0.schema.json"
MOST_BYTES = 1 << 20
_CHANGE = "Change these keys; `sweepbook formats --guide` has a label scheme as an example."
_ENDS = ("from", "to")
_ROLES = tuple(f"{end}_{part}" for end in _ENDS for part in (*LEVELS, "termination"))


class BadLabelScheme(SweepbookError):
    """A label scheme cannot be used.

    Args:
        where: the file.
        problems: what is wrong, each with its key path.
        todo: what to do next.
    """

    def __init__(self, where: str, problems: list[str], todo: str = _CHANGE) -> None:
        listed = "; ".join(problem.rstrip(".") for problem in problems)
        super().__init__(f"the label scheme {where} cannot be used: {listed}.", todo)


@dataclass(frozen=True, slots=True)
class KindOfLabel:
    """One kind of label.

    Attributes:
        template: how it is taken apart.
        ends: texts of what its pieces say, by role such as "from_floor".
    """

    template: Template
    ends: Mapping[str, Template]


@dataclass(frozen=True, slots=True)
class LabelScheme:
    """A label scheme.

    Attributes:
        name: for people.
        sha256: of the file.
        content: the file itself.
        kinds: of labels, in the order in which they are tried.
    """

    name: str
    sha256: str
    content: str
    kinds: tuple[KindOfLabel, ...]

    def ends(self, label: str) -> tuple[End, End] | None:
        """The near and the far end that a label tells; None where it fits no template."""
        for kind in self.kinds:
            pieces = taken_apart(kind.template, label.strip())
            if not isinstance(pieces, Misfit):
                near, far = (_end(kind, pieces, end) for end in _ENDS)
                return near, far
        return None

    def misfit(self, label: str) -> str:
        """Why a label fits no template, by the one that it fits longest; "" where it fits."""
        text, longest = label.strip(), Misfit(-1, "")
        for kind in self.kinds:
            pieces = taken_apart(kind.template, text)
            if not isinstance(pieces, Misfit):
                return ""
            longest = max(longest, pieces, key=lambda misfit: misfit.at)
        found = repr(text[longest.at :]) if text[longest.at :] else "the end of the label"
        return (
            f"{text!r} does not fit the label scheme {self.name}: at character {longest.at + 1} "
            f"stands {found}, expected is {longest.expected}."
        )


def load(path: Path) -> LabelScheme:
    """Read a label scheme.

    Raises:
        BadLabelScheme: it cannot be opened, is no TOML or no label scheme.
    """
    try:
        raw = bytes_of(path, MOST_BYTES)
    except OSError as error:
        why = f"it cannot be opened: {error.strerror or error}"
        todo = what_to_do(error, "Check the path.")
        raise BadLabelScheme(path.name, [why], todo) from error
    if len(raw) > MOST_BYTES:
        raise BadLabelScheme(path.name, [f"it is larger than {MOST_BYTES >> 20} MiB"])
    try:
        return parse(raw.decode("utf-8"), path.name)
    except UnicodeDecodeError as error:
        raise BadLabelScheme(path.name, [f"it is not UTF-8: {error.reason}"]) from error


def parse(content: str, where: str) -> LabelScheme:
    """Make a label scheme of the text of its file.

    Raises:
        BadLabelScheme: it is no TOML or no label scheme.
    """
    from sweepbook.dialect import schema_check

    try:
        document = toml.parsed(content.encode("utf-8"))
    except toml.NoToml as error:
        raise BadLabelScheme(where, [str(error)]) from error
    problems = schema_check.problems(document, SCHEMA)
    if problems:
        raise BadLabelScheme(where, problems)
    kinds = []
    for n, entry in enumerate(document["labels"]):
        try:
            kinds.append(_kind(entry))
        except ValueError as error:
            problems.append(f"labels.{n}: {error}")
    if problems:
        raise BadLabelScheme(where, problems)
    digest = hashlib.sha256(content.encode("utf-8")).hexdigest()
    return LabelScheme(document["name"], digest, content, tuple(kinds))


def _kind(entry: Mapping[str, Any]) -> KindOfLabel:
    """One kind of label.

    Raises:
        ValueError: a template is not well written, or a text names a piece that is not there.
    """
    parts = template(entry["template"])
    pieces = names(parts)
    ends = {name: template(f"{{{name}}}") for name in pieces if name in _ROLES}
    for role, text in entry.get("ends", {}).items():
        ends[role] = template(text)
        unknown = [name for name in names(ends[role]) if name not in pieces]
        if unknown:
            listed = ", ".join(pieces) or "none"
            raise ValueError(f"ends.{role}: there is no piece {unknown[0]!r}; there are: {listed}")
    if not ends:
        raise ValueError(
            "nothing is said of an end; call a piece from_floor or the like, or add a table ends"
        )
    return KindOfLabel(parts, ends)


def _end(kind: KindOfLabel, pieces: Mapping[str, str], end: str) -> End:
    told = {
        role.removeprefix(f"{end}_"): filled(text, pieces)
        for role, text in kind.ends.items()
        if role.startswith(f"{end}_")
    }
    termination = told.pop("termination", "")
    return End({level: told[level] for level in LEVELS if level in told}, termination)
