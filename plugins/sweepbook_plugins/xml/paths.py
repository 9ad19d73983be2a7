"""Paths as a dialect writes them: names of elements, step by step, and an attribute at the end.

`terminal[@end=head]/jack/@part` goes from the element at hand to its child `terminal` whose
attribute `end` is `head`, to the child `jack` of that, to its attribute `part`. A path that begins
with "/" begins at the root of the file. In brackets stand an attribute (`@end=head`), a child
(`role=main`) or a position counted from 1. In a path that names something the value may be
an attribute of the element that it begins at: `../column[@id=@column]/@pair`. Nothing else is
understood.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

_STEPS = re.compile(r"((?:\[[^\]]*\]|[^/\[\]])*)(/|$)")
_STEP = re.compile(r"([^\[\]@]+)((?:\[[^\]]*\])*)")
_CONDITION = re.compile(r"\[([^\]]*)\]")
_NAME = re.compile(r"[^\s\[\]/@:=*()|'\"<>&.,-][^\s\[\]/@:=*()|'\"<>&]*")
_NOTHING = "\0"
"""What no text of XML is."""
_POSITION = re.compile(r"[1-9][0-9]{0,5}")


class Condition(NamedTuple):
    """What chooses one of several elements of a name.

    Attributes:
        kind: "@" for an attribute, "child" for the text of a child, "position".
        name: qualified name of the attribute or the child.
        value: what it must be.
        refers: whether `value` is the name of an attribute, of where the path begins, that has it.
    """

    kind: str
    name: str
    value: str
    refers: bool = False


class Step(NamedTuple):
    """One element of a path.

    Attributes:
        uri: its namespace, "" for none.
        local: its name; it may hold placeholders of a template where that is allowed.
        conditions: all of them must hold.
        shown: the step as the dialect writes it.
    """

    uri: str
    local: str
    conditions: tuple[Condition, ...]
    shown: str

    @property
    def tag(self) -> str:
        """The name as lxml writes it."""
        return qualified(self.uri, self.local)

    @property
    def is_template(self) -> bool:
        """Whether words of the dialect are to be put into the name."""
        return "{" in self.local


class Stand(NamedTuple):
    """What an element at a step is called, a template being any of its words, and what chooses it.

    Attributes:
        tags: its names as lxml writes them.
        conditions: attributes of it.
    """

    tags: frozenset[str]
    conditions: tuple[Condition, ...]


class Path(NamedTuple):
    """A way to an element, or to one of its attributes.

    Attributes:
        absolute: whether it begins at the root of the file.
        up: how many elements it first goes up.
        steps: then down.
        attribute: qualified name of the attribute; None for the text of the element.
    """

    absolute: bool
    up: int
    steps: tuple[Step, ...]
    attribute: str | None

    @property
    def refers(self) -> bool:
        """Whether an attribute of the element that it begins at chooses one on its way."""
        return any(of.refers for step in self.steps for of in step.conditions)

    @property
    def loose(self) -> "Path":
        """The same without such choices: all that it may lead to."""
        return self._chosen(lambda of: () if of.refers else (of,)) if self.refers else self

    def begun_at(self, get: Callable[[str], str | None]) -> "Path":
        """The same with such choices by what the attributes of an element say.

        Args:
            get: the text of an attribute by its qualified name.
        """
        if not self.refers:
            return self
        return self._chosen(
            lambda of: (
                (of._replace(value=(get(of.value) or "").strip() or _NOTHING, refers=False),)
                if of.refers
                else (of,)
            )
        )

    def _chosen(self, choices: Callable[[Condition], tuple[Condition, ...]]) -> "Path":
        steps = (
            step._replace(conditions=tuple(of for one in step.conditions for of in choices(one)))
            for step in self.steps
        )
        return self._replace(steps=tuple(steps))


@dataclass(frozen=True)
class Names:
    """The namespaces that a dialect declares.

    Attributes:
        default: namespace of elements without a prefix, "" for none.
        prefixes: namespace by prefix.
    """

    default: str = ""
    prefixes: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def _known(self) -> dict[str, str]:
        return {uri: prefix for prefix, uri in self.prefixes.items()}

    def show(self, tag: str, *, attribute: bool = False) -> str:
        """A name of lxml as the dialect would write it; `{uri}name` if it declares no prefix."""
        uri, _, local = tag.rpartition("}")
        uri = uri.removeprefix("{")
        if uri in self._known:
            return f"{self._known[uri]}:{local}"
        if uri == ("" if attribute else self.default):
            return local
        return f"{{{uri}}}{local}"

    def inner(self, path: str, attribute: str) -> str:
        """The path of an attribute, by its name of lxml, of the element at a path."""
        shown = f"@{self.show(attribute, attribute=True)}"
        return f"{path}/{shown}" if path else shown

    def split(self, text: str, *, attribute: bool = False) -> tuple[str, str]:
        """Namespace and local name of a name as the dialect writes it.

        Raises:
            ValueError: the prefix is not declared, or this is no name.
        """
        prefix, colon, local = text.rpartition(":")
        plain = local.replace("{", "").replace("}", "")
        if not _NAME.fullmatch(plain) or (colon and not prefix):
            raise ValueError(f"{text!r} is no name of an element or attribute")
        if not colon:
            return ("" if attribute else self.default), local
        if prefix not in self.prefixes:
            raise ValueError(f"the prefix of {text!r} is not declared in xml.namespaces")
        return self.prefixes[prefix], local

    def tag(self, text: str, *, attribute: bool = False) -> str:
        """A name of the dialect as lxml writes it.

        Raises:
            ValueError: the prefix is not declared, or this is no name.
        """
        return qualified(*self.split(text, attribute=attribute))


def qualified(uri: str, local: str) -> str:
    """A name as lxml writes it."""
    return f"{{{uri}}}{local}" if uri else local


def parse(text: str, names: Names, *, refers: bool = False) -> Path:
    """Take a path apart.

    Args:
        text: it.
        names: the namespaces.
        refers: whether elements may be chosen by an attribute of where the path begins.

    Raises:
        ValueError: it holds what is no step, or an undeclared prefix.
    """
    absolute = text.startswith("/")
    parts = list(_split(text.removeprefix("/")))
    up = 0
    while not absolute and parts[:1] == [".."]:
        parts, up = parts[1:], up + 1
    attribute = None
    if parts and parts[-1].startswith("@"):
        attribute = names.tag(parts.pop()[1:], attribute=True)
    if parts[:1] == ["."]:
        parts = parts[1:]
    elif not parts and attribute is None and not up:
        raise ValueError(f'the path {text!r} names nothing; "." is the element itself')
    path = Path(absolute, up, tuple(_step(part, names) for part in parts), attribute)
    if not refers and path.refers:
        raise ValueError(
            f"the path {text!r} chooses by an attribute of where it begins, which only a path in "
            "`name` may; put a text that begins with @ in quotes"
        )
    return path


def _split(text: str) -> Iterator[str]:
    """Steps between slashes; slashes in brackets do not count."""
    position = 0
    while position < len(text):
        match = _STEPS.match(text, position)
        if match is None or not match[1]:
            raise ValueError(f"the path {text!r} cannot be taken apart at {text[position:]!r}")
        yield match[1].strip()
        position = match.end()
    if text.endswith("/"):
        raise ValueError(f"the path {text!r} ends in a slash")


def _step(text: str, names: Names) -> Step:
    match = _STEP.fullmatch(text)
    if match is None:
        raise ValueError(f"{text!r} is no step of a path: write a name, or name[@attribute=value]")
    uri, local = names.split(match[1].strip())
    found = tuple(_condition(inner, names) for inner in _CONDITION.findall(match[2]))
    return Step(uri, local, found, text)


def _condition(text: str, names: Names) -> Condition:
    if _POSITION.fullmatch(text.strip()):
        return Condition("position", "", text.strip())
    name, equals, value = (part.strip() for part in text.partition("="))
    if not equals:
        raise ValueError(f"[{text}] is no choice: write [@attribute=value], [child=value] or [2]")
    refers = value.startswith("@")
    if refers:
        value = names.tag(value[1:].strip(), attribute=True)
    elif len(value) > 1 and value[0] == value[-1] and value[0] in "'\"":
        value = value[1:-1]
    if name.startswith("@"):
        return Condition("@", names.tag(name[1:].strip(), attribute=True), value, refers)
    return Condition("child", names.tag(name), value, refers)
