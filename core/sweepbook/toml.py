"""TOML that people write, read within bounds: what would fill the memory is refused."""

import re
import tomllib
from typing import Any

DEEPEST = 32
"""Tables and lists inside each other; the deepest file that the program reads has seven."""
_LARGEST = 2**63 - 1
_TOO_LARGE = "it holds an integer beyond 64 bits"
_ENDLESS_KEY = re.compile(
    rb"""(?<![\w-])(?:(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+){%d}""" % DEEPEST
)
"""A key of so many parts: the library takes the square of their number in time."""


class NoToml(Exception):
    """Bytes cannot be read as TOML; the text says why, without a stop at its end."""


def parsed(raw: bytes) -> dict[str, Any]:
    """The tables of a file.

    Integers are those of 64 bits, as TOML 1.0.0 asks for; nesting is bounded.

    Raises:
        NoToml: it is not UTF-8, no TOML, nested too deep, or holds a larger integer.
    """
    if _ENDLESS_KEY.search(raw):
        raise NoToml(f"it is nested deeper than {DEEPEST}")
    try:
        document = tomllib.loads(raw.decode("utf-8"))
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise NoToml(f"it is not UTF-8 in line {line}: {error.reason}") from error
    except RecursionError as error:
        raise NoToml(f"it is nested deeper than {DEEPEST}") from error
    except tomllib.TOMLDecodeError as error:
        raise NoToml(f"it is no TOML: {error}"[:300]) from error
    except ValueError as error:  # a number of thousands of digits
        raise NoToml(_TOO_LARGE) from error
    _check(document)
    return document


def _check(document: dict[str, Any]) -> None:
    """Refuse what is nested too deep, and integers beyond 64 bits; a walk level by level."""
    level: list[Any] = [document]
    for _ in range(DEEPEST):
        below: list[Any] = []
        for value in level:
            for item in value.values() if isinstance(value, dict) else value:
                if isinstance(item, dict | list):
                    below.append(item)
                elif isinstance(item, int) and not -_LARGEST <= item <= _LARGEST:
                    raise NoToml(_TOO_LARGE)
        if not below:
            return
        level = below
    raise NoToml(f"it is nested deeper than {DEEPEST}")
