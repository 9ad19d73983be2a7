"""From values to HTML: every text that is put into a template is escaped, whatever it holds."""

import base64
import hashlib
from collections.abc import Iterable
from functools import cache, lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING

from sweepbook.text import printable
from sweepbook_plugins.report import figures, words

if TYPE_CHECKING:
    from jinja2 import Environment, Template

_HERE = "sweepbook_plugins.report"


def template(name: str) -> "Template":
    """A template of this package by its file name."""
    return _environment().get_template(name)


@cache
def style() -> str:
    """The style sheet of the page."""
    return _text("page.css")


def unprinted(rules: Iterable[str]) -> str:
    """What keeps off paper, in each sheet, what every one of them says by these rules."""
    names = ", ".join(f".found .by-{rule}" for rule in rules)
    return f"@media print {{ {names} {{ display: none; }} }}\n" if names else ""


@cache
def script() -> str:
    """The script of the page, which sorts and filters tables and does nothing else."""
    return _text("page.js")


def digest(text: str) -> str:
    """What a content security policy calls a text: CSP level 3, 2.3.1, hash-source."""
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"


def _text(name: str) -> str:
    return files(_HERE).joinpath("templates", name).read_text(encoding="utf-8")


@cache
def _environment() -> "Environment":
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    made = Environment(
        loader=FunctionLoader(_text),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_visible,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["plain"] = figures.plain
    made.filters["margin"] = figures.margin
    made.filters["signed"] = figures.signed
    made.filters["mhz"] = figures.megahertz
    made.filters["unit"] = figures.unit
    made.filters["counted"] = figures.counted
    made.globals["words"] = words
    axes = made.get_template("axes.html").module
    for name in ("value_lines", "frequency_lines", "value_marks", "frequency_marks"):
        made.globals[name] = lru_cache(maxsize=256)(getattr(axes, name))  # plots share axes
    return made


def _visible(value: object) -> object:
    """A text with what a browser or a terminal might act upon made visible; markup as it is."""
    if isinstance(value, str) and not hasattr(value, "__html__"):
        return printable(value)
    return "" if value is None else value
