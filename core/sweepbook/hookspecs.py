"""The hooks a plugin may implement: the whole contract on one screen."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import pluggy

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from sweepbook.formats import Format
    from sweepbook.rules.model import Rule, SetRule

hookspec = pluggy.HookspecMarker("sweepbook")
hookimpl = pluggy.HookimplMarker("sweepbook")


@hookspec
def describe_formats() -> "Sequence[Format]":
    """Give the formats this plugin can tell, read or write."""
    raise NotImplementedError


@hookspec
def contribute_data() -> "Sequence[Traversable]":
    """Give folders of data; `limits/*.json` and `dialects/*.toml` below them are loaded."""
    raise NotImplementedError


@hookspec
def contribute_rules() -> "Sequence[Rule | SetRule]":
    """Give rules for the catalogue, each with its entry and its function."""
    raise NotImplementedError
