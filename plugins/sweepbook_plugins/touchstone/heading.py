"""What stands before the data: the option line, and of version 2.0 the keywords in brackets."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from sweepbook import numerals
from sweepbook.dialect.raw import Fault
from sweepbook_plugins.touchstone.lines import Line, Lines
from sweepbook_plugins.touchstone.options import LEAST_OHM, MOST_OHM, NotOptions, Options, parse

VERSION = "2.0"
MOST_PORTS = 64
MOST_POINTS = 100_000
_KEYWORD = re.compile(r"\[([^\]]*)\]\s*(.*)")
_MODE = re.compile(r"([DCdc])([1-9][0-9]{0,2}),([1-9][0-9]{0,2})|([Ss])([1-9][0-9]{0,2})")
_ORDERS = ("12_21", "21_12")
_MATRICES = ("full", "lower", "upper")


class Mode(NamedTuple):
    """What one row and column of the matrices is of.

    Attributes:
        kind: D, differential; C, common; S, single-ended.
        ports: the two ports of a mode, the one whose voltage counts positive first; else one.
    """

    kind: str
    ports: tuple[int, ...]


@dataclass(frozen=True)
class Heading:
    """What a file says of its data.

    Attributes:
        version: 1 or 2.
        options: the option line.
        ports: number of ports; None in version 1, where the data say it.
        points: number of frequencies; None in version 1.
        order: of the two matrix elements S12 and S21 of a two-port; "" where it was not said.
        matrix: full, lower or upper.
        reference_ohm: impedance of each port; empty where the option line's holds for all.
        modes: what each row is of; empty where all are of single ports.
        information: lines between [Begin Information] and [End Information].
    """

    version: int
    options: Options
    ports: int | None = None
    points: int | None = None
    order: str = ""
    matrix: str = "full"
    reference_ohm: tuple[float, ...] = ()
    modes: tuple[Mode, ...] = ()
    information: tuple[Line, ...] = field(default=(), repr=False)


def heading(lines: Lines) -> Heading:
    """Read up to the first line of data.

    Raises:
        Fault: this is no such file, or a line says what cannot be.
    """
    first = next(lines, None)
    if first is None:
        raise Fault("", "there are comments only, and no option line such as '# MHz S RI R 50'")
    if first.text.startswith("#"):
        return Heading(1, _options(first), order="21_12")
    name, argument = keyword(first) or ("", "")
    if name != "version":
        raise Fault(
            first.place,
            f"read was {first.text[:40]!r}, expected is an option line such as "
            "'# MHz S RI R 50', or [Version] 2.0",
        )
    if argument != VERSION:
        raise Fault(
            first.place,
            f"the version is {argument!r}; versions 1.0 and 1.1 (without this line) and 2.0 are "
            "read. Save the file in one of these",
        )
    return _version_2(lines)


def keyword(line: Line) -> tuple[str, str] | None:
    """Keyword in lower case, blanks made one, and what follows it; None where there is none."""
    found = _KEYWORD.fullmatch(line.text)
    return (" ".join(found[1].casefold().split()), found[2].strip()) if found else None


def _options(line: Line) -> Options:
    try:
        options = parse(line.text)
    except NotOptions as error:
        raise Fault(line.place, f"in the option line {error}") from error
    if options.parameter != "S":
        raise Fault(
            line.place,
            f"the file holds {options.parameter}-parameters; S-parameters are read. Save them as "
            "S-parameters",
        )
    return options


def _version_2(lines: Lines) -> Heading:
    """The keywords after [Version] up to [Network Data]."""
    made = Heading(2, Options())
    options_seen = False
    for line in lines:
        if line.text.startswith("#"):
            if not options_seen:
                made = replace(made, options=_options(line))
            options_seen = True
            continue
        name, argument = keyword(line) or ("", "")
        if name == "network data":
            if not options_seen:
                raise Fault(line.place, "there is no option line (# ...) before the data")
            return _whole(made, line)
        if name == "begin information":
            made = replace(made, information=tuple(_information(lines)))
        elif name in _TAKERS:
            more = _more(lines) if name in _LONG else []
            words = [*argument.split(), *(word for one in more for word in one.text.split())]
            made = _TAKERS[name](made, words, line)
        elif name not in ("number of noise frequencies",):
            raise Fault(
                line.place,
                f"read was {line.text[:40]!r}, expected is a keyword of version 2.0 or "
                "[Network Data]",
            )
    raise Fault("", "[Network Data] is missing; see whether the file was cut off before it")


def _whole(made: Heading, line: Line) -> Heading:
    """Hold the keywords against each other."""
    if made.ports is None:
        raise Fault(line.place, "[Number of Ports] is missing before the data")
    if made.points is None:
        raise Fault(line.place, "[Number of Frequencies] is missing before the data")
    if made.ports == 2 and not made.order:
        raise Fault(
            line.place,
            "[Two-Port Data Order] is missing, which two ports need: write 12_21 or 21_12",
        )
    for name, found in (("[Reference]", made.reference_ohm), ("[Mixed-Mode Order]", made.modes)):
        if found and len(found) != made.ports:
            raise Fault(
                line.place,
                f"{name} has {len(found)} entries, [Number of Ports] is {made.ports}; mend one",
            )
    named = sorted(port for mode in made.modes for port in mode.ports if mode.kind != "C")
    if made.modes and named != list(range(1, made.ports + 1)):
        raise Fault(
            line.place,
            f"the D and S entries of [Mixed-Mode Order] do not name each port from 1 to "
            f"{made.ports} once",
        )
    return made


def _information(lines: Lines) -> Iterable[Line]:
    for line in lines:
        if (keyword(line) or ("", ""))[0] == "end information":
            return
        yield line
    raise Fault("", "[End Information] is missing; see whether the file was cut off before it")


def _more(lines: Lines) -> Iterable[Line]:
    """The lines on which the argument of a keyword goes on."""
    for line in lines:
        if line.text.startswith(("[", "#")):
            lines.put_back(line)
            return
        yield line


def _count(words: list[str], line: Line, most: int, what: str) -> int:
    text = " ".join(words)
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 16 else 0
    if not 1 <= number <= most:
        raise Fault(line.place, f"{text!r} {what}; from 1 to {most:,} are read")
    return number


def _ports(made: Heading, words: list[str], line: Line) -> Heading:
    return replace(made, ports=_count(words, line, MOST_PORTS, "ports are claimed"))


def _points(made: Heading, words: list[str], line: Line) -> Heading:
    return replace(made, points=_count(words, line, MOST_POINTS, "frequencies are claimed"))


def _order(made: Heading, words: list[str], line: Line) -> Heading:
    return replace(made, order=_one_of(words, line, _ORDERS))


def _matrix(made: Heading, words: list[str], line: Line) -> Heading:
    return replace(made, matrix=_one_of(words, line, _MATRICES))


def _one_of(words: list[str], line: Line, known: tuple[str, ...]) -> str:
    text = " ".join(words).casefold()
    if text not in known:
        raise Fault(line.place, f"{text!r} was read, expected is one of {', '.join(known)}")
    return text


def _reference(made: Heading, words: list[str], line: Line) -> Heading:
    if len(words) > MOST_PORTS:
        raise Fault(
            line.place,
            f"[Reference] is followed by {len(words)} numbers, one a port is expected; see whether "
            "[Network Data] is missing behind it",
        )
    try:
        values, _ = numerals.parse_column(words)
    except numerals.NotANumber as error:
        raise Fault(line.place, f"[Reference]: {error.message.rstrip('.')}") from error
    if not ((values >= LEAST_OHM) & (values <= MOST_OHM)).all():
        raise Fault(
            line.place, f"[Reference]: an impedance is one of {LEAST_OHM:g} to {MOST_OHM:g} ohm"
        )
    return replace(made, reference_ohm=tuple(values.tolist()))


def _modes(made: Heading, words: list[str], line: Line) -> Heading:
    modes = []
    for word in words:
        found = _MODE.fullmatch(word)
        if not found:
            raise Fault(
                line.place, f"{word!r} was read, expected is D1,2 or C1,2 or S1 and the like"
            )
        kind, one, two, single, alone = found.groups()
        ports = (int(one), int(two)) if kind else (int(alone),)
        modes.append(Mode((kind or single).upper(), ports))
    return replace(made, modes=tuple(modes))


_LONG = ("reference", "mixed-mode order")
_TAKERS: dict[str, Callable[[Heading, list[str], Line], Heading]] = {
    "number of ports": _ports,
    "number of frequencies": _points,
    "two-port data order": _order,
    "matrix format": _matrix,
    "reference": _reference,
    "mixed-mode order": _modes,
}
