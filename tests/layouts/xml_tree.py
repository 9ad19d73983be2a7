"""Elements of an export, before they are text."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from xml.sax.saxutils import escape, quoteattr


@dataclass
class Node:
    """An element: its name, attributes, text and children, in order."""

    tag: str
    attributes: dict[str, str] = field(default_factory=dict)
    text: str = ""
    children: list["Node"] = field(default_factory=list)

    def add(self, tag: str, told: Mapping[str, str] | None = None, text: str = "") -> "Node":
        """Add a child and give it back."""
        child = Node(tag, dict(told or {}), text)
        self.children.append(child)
        return child


def written(root: Node, space: str, encoding: str, codec: str) -> bytes:
    """The file.

    Args:
        root: of it.
        space: none, default or prefixed.
        encoding: as the first line says it.
        codec: of Python for it.
    """
    uri = "urn:example:report:2"
    prefix = "t:" if space == "prefixed" else ""
    spaces = {"default": {"xmlns": uri}, "prefixed": {"xmlns:t": uri}}.get(space, {})
    lines = [f'<?xml version="1.0" encoding="{encoding}"?>']
    lines += _lines(root, prefix, 0, spaces)
    return "\n".join([*lines, ""]).encode(codec)


def _lines(node: Node, prefix: str, depth: int, spaces: Mapping[str, str]) -> Iterator[str]:
    told = "".join(
        f" {key}={quoteattr(text)}" for key, text in {**spaces, **node.attributes}.items()
    )
    head, blanks = f"{prefix}{node.tag}", " " * depth
    if not node.children:
        body = f">{escape(node.text)}</{head}>" if node.text else "/>"
        yield f"{blanks}<{head}{told}{body}"
        return
    yield f"{blanks}<{head}{told}>{escape(node.text)}"
    for child in node.children:
        yield from _lines(child, prefix, depth + 1, {})
    yield f"{blanks}</{head}>"
