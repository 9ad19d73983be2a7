"""The plugins: built-in ones by name, others by entry point, each loaded in isolation."""

import os
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING, Any

import pluggy

from sweepbook import entry_points, hookspecs
from sweepbook.errors import SweepbookError

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint
    from importlib.resources.abc import Traversable

    from sweepbook.formats import Format
    from sweepbook.rules.model import Rule, SetRule

GROUP = "sweepbook"
STRICT = "SWEEPBOOK_STRICT_PLUGINS"
OURS = "sweepbook_plugins."
BUILTIN = (
    "sweepbook_plugins.asbuilt.database",
    "sweepbook_plugins.csv.sweeps",
    "sweepbook_plugins.csv.table",
    "sweepbook_plugins.json.record",
    "sweepbook_plugins.report.page",
    "sweepbook_plugins.touchstone.sweeps",
    "sweepbook_plugins.xlsx.flat",
    "sweepbook_plugins.xlsx.sheet_table",
    "sweepbook_plugins.xlsx.workbook",
    "sweepbook_plugins.xml.sweeps",
)


@dataclass
class Registry:
    """What the loaded plugins offer.

    Attributes:
        manager: pluggy's manager, for the curious.
        formats: by name.
        data: folders of data that plugins bring.
        rules: rules that plugins bring.
        loaded: names of the plugins in use.
        failures: what went wrong, by name of the plugin; such a plugin is not in use.
        crashes: what plugins in use raised that they must not, as it happens.
    """

    manager: pluggy.PluginManager
    formats: "dict[str, Format]" = field(default_factory=dict)
    data: "list[Traversable]" = field(default_factory=list)
    rules: "list[Rule | SetRule]" = field(default_factory=list)
    loaded: list[str] = field(default_factory=list)
    failures: dict[str, str] = field(default_factory=dict)
    crashes: list[str] = field(default_factory=list)

    def reader(self, name: str) -> "Format":
        """The format of this name, which must be able to read.

        Raises:
            SweepbookError: there is no such format, or it cannot read.
        """
        return self._able(name, "read", (f for f in self.formats.values() if f.read))

    def writer(self, name: str) -> "Format":
        """The format of this name, which must be able to write.

        Raises:
            SweepbookError: there is no such format, or it cannot write.
        """
        return self._able(name, "write", (f for f in self.formats.values() if f.write))

    def _able(self, name: str, verb: str, able: "Iterable[Format]") -> "Format":
        by_name = {entry.name: entry for entry in able}
        if name in by_name:
            return by_name[name]
        near = [one for one in by_name.values() if name.casefold() in one.title.casefold()]
        hint = "".join(f"Perhaps {one.name!r} is meant: {one.title}. " for one in near[:1])
        raise SweepbookError(
            f"No format that can {verb} is called {name!r}.",
            f"{hint}Those that can: {', '.join(sorted(by_name)) or 'none'}; see `sweepbook "
            "formats`.",
        )


def load(third_parties: "Iterable[EntryPoint] | None" = None) -> Registry:
    """Load all plugins; a broken one is noted in `failures` and never stops the rest.

    Args:
        third_parties: entry points to load; by default those installed in the group "sweepbook".

    Raises:
        Exception: whatever a plugin raised, if the environment variable
            SWEEPBOOK_STRICT_PLUGINS is "1".
    """
    manager = pluggy.PluginManager(GROUP)
    manager.add_hookspecs(hookspecs)
    registry = Registry(manager)
    for name in BUILTIN:
        _add(registry, name.removeprefix(OURS), partial(import_module, name))
    found = entry_points.of(GROUP) if third_parties is None else third_parties
    for entry in sorted(found, key=lambda entry: entry.name):
        module = partial(import_module, entry.module)
        _add(registry, entry.name, entry.load if entry.attr else module)
    return registry


def told(error: Exception) -> str:
    """What a plugin raised, in one line."""
    return f"{type(error).__name__}: {error}".replace("\n", " ")[:500]


def _add(registry: Registry, name: str, plugin: Callable[[], object]) -> None:
    """Register one plugin and take in what it offers; on any fault take it out again."""
    manager = registry.manager
    try:
        if manager.has_plugin(name):
            raise SweepbookError(f"The name {name!r} is taken.", "Rename the entry point.")
        manager.register(plugin(), name=name)
        manager.check_pending()
        _take_in(registry, manager.get_plugin(name))
    except Exception as error:  # a plugin may raise anything
        if os.environ.get(STRICT) == "1":
            raise
        if manager.has_plugin(name):
            manager.unregister(name=name)
        registry.failures[name] = told(error)
    else:
        registry.loaded.append(name)


def _take_in(registry: Registry, plugin: Any) -> None:  # noqa: ANN401 - pluggy's own type
    """Ask this plugin alone for what it offers, and add all of it or none."""
    others = [other for other in registry.manager.get_plugins() if other is not plugin]
    hooks = {
        name: registry.manager.subset_hook_caller(name, others)
        for name in ("describe_formats", "contribute_data", "contribute_rules")
    }
    formats = [entry for part in hooks["describe_formats"]() for entry in part]
    data = [folder for part in hooks["contribute_data"]() for folder in part]
    rules = [rule for part in hooks["contribute_rules"]() for rule in part]
    _refuse_doubles([entry.name for entry in formats], registry.formats)
    if rules:
        from sweepbook.rules import contributed  # reads the catalogue

        contributed.hold(rules, [rule.entry.id for rule in registry.rules])
    registry.formats.update({entry.name: entry for entry in formats})
    registry.data.extend(data)
    registry.rules.extend(rules)


def _refuse_doubles(names: list[str], taken: Iterable[str]) -> None:
    known = set(taken)
    for name in names:
        if name in known:
            raise SweepbookError(f"The format {name!r} is there already.", "Choose another name.")
        known.add(name)
