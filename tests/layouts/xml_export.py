"""Files in a layout that was drawn."""

import random
from collections.abc import Sequence
from pathlib import Path

from . import truth
from .truth import Test
from .words import Words
from .xml_curves import Curves
from .xml_facts import Facts
from .xml_layout import Layout
from .xml_names import Names
from .xml_results import Results
from .xml_tree import Node, written

_TESTS = 3
_CODE_PAGE = {"pl": ("windows-1250", "cp1250")}


def tests_of(layout: Layout, words: Words, chance: random.Random) -> list[Test]:
    """The tests that are written in a layout."""
    made = truth.links(chance, _TESTS, layout.parameters, words.limit, even=layout.curve == "run")
    if layout.holes == "curve":
        for key, values in made[1].curves.items():
            if key[:2] == ("return_loss", "far"):
                values[:2] = [None, None]
    if layout.holes == "figure":
        made[1].resistance = dict.fromkeys(truth.PAIRS)
    return made


def write(layout: Layout, words: Words, tests: Sequence[Test], folder: Path) -> list[Path]:
    """Write the tests into files of a folder."""
    names = Names(layout, words)
    batches = [[one] for one in tests] if layout.files == "several" else [list(tests)]
    encoding, codec = _encoding(layout)
    paths = []
    for number, batch in enumerate(batches, 1):
        path = folder / f"export-{number}.xml"
        path.write_bytes(written(_file(names, batch), layout.space, encoding, codec))
        paths.append(path)
    return paths


def _encoding(layout: Layout) -> tuple[str, str]:
    if layout.encoding == "code page":
        return _CODE_PAGE.get(layout.tongue, ("ISO-8859-1", "latin-1"))
    return (layout.encoding.upper(), layout.encoding)


def _file(names: Names, tests: Sequence[Test]) -> Node:
    layout = names.layout
    root = Node(names.element("report"))
    facts, results, curves = Facts(names), Results(names), Curves(names)
    if layout.nest != "root":
        facts.of_file(root, tests[0])
    around = {"root": root, "container": root}.get(layout.nest)
    rooms: dict[tuple[str, ...], Node] = {}
    if layout.nest == "container":
        around = root.add(names.element("tests"))
    for test in tests:
        holder = around or facts.room(root, rooms, test)
        node = root if layout.nest == "root" else holder.add(names.element("test"))
        if layout.nest == "root":
            facts.of_file(node, test)
        facts.of_test(node, test)
        if layout.results == "ahead":
            results.all(node, test)
        curves.all(node, test, results if layout.results == "inside" else None)
        if layout.results == "behind":
            results.all(node, test)
        elif layout.results == "inside":
            results.scalars(node, test)
    return root
