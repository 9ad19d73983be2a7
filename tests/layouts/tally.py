"""How well dialects are drafted for layouts that were drawn at random.

    python -m tests.layouts.tally [COUNT] [SEED] [FOLDER] [TONGUE]

Drafts a dialect for each layout, reads its files by the draft, and holds the records against the
truth. Prints how many are read right as drafted, what is wrong or lacking in how many, and which
choices of a layout go with that. With a folder it keeps files, drafts and faults. The tongue `fi`
is one that drafts know nothing of.
"""

import random
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from sweepbook.limits.library import Library

from . import drafted, held, xml_export, xml_layout
from .held import Fault
from .text_forms import zone
from .words import Words
from .xml_layout import Layout

_FEW, _MANY = 5, 100


class Trial(NamedTuple):
    """One layout, the outcome of its draft, and what is not as it should be."""

    seed: int
    layout: Layout
    outcome: drafted.Outcome
    faults: list[Fault]

    @property
    def kinds(self) -> list[str]:
        """Each field that is wrong or lacking, once."""
        return sorted({f"{fault.field} {fault.kind}" for fault in self.faults})

    @property
    def things(self) -> int:
        """How many things a person has to mend or to say; very many where a test is not read."""
        refused = _MANY if "test lacking" in self.kinds else 0
        return len(self.kinds) + len(self.outcome.told) + refused


def trial(seed: int, folder: Path, limits: Library, tongue: str = "") -> Trial:
    """Draw a layout by a seed, write its files into a folder, draft and read."""
    chance = random.Random(seed)
    layout = xml_layout.drawn(chance, tongue)
    words = Words(layout.tongue, chance)
    tests = xml_export.tests_of(layout, words, chance)
    paths = xml_export.write(layout, words, tests, folder)
    offset = zone(tests[0].started).removeprefix("UTC")
    outcome = drafted.outcome(paths, "xml", limits, offset)
    return Trial(seed, layout, outcome, held.faults(tests, outcome.documents))


def main() -> None:
    """Try so many layouts and print the tally."""
    given = sys.argv[1:]
    count, seed = [*map(int, given[:2]), *(100, 0)[len(given[:2]) :]]
    keep = Path(given[2]) if len(given) > 2 else None
    tongue = given[3] if len(given) > 3 else ""
    limits = Library.load()
    trials = []
    for number in range(seed, seed + count):
        with tempfile.TemporaryDirectory() as name:
            folder = keep / str(number) if keep else Path(name)
            folder.mkdir(parents=True, exist_ok=True)
            one = trial(number, folder, limits, tongue)
            trials.append(one)
            if keep:
                _keep(one, folder)
    print("\n".join(lines(trials)))


def _keep(one: Trial, folder: Path) -> None:
    (folder / "draft.toml").write_text(one.outcome.text, encoding="utf-8")
    told = [f"{choice}: {option}" for choice, option in one.layout.choices().items()]
    told += ["", *(f"{fault.kind} {fault.field}: {fault.told}" for fault in one.faults)]
    told += ["", *one.outcome.problems]
    (folder / "faults.txt").write_text("\n".join(told), encoding="utf-8")


def lines(trials: Sequence[Trial]) -> list[str]:
    """The tally of trials."""
    right = sum(not one.faults for one in trials)
    asked = sum(len(one.outcome.told) for one in trials)
    silent = [one for one in trials if any(fault.kind == held.WRONG for fault in one.faults)]
    few = sum(one.things <= _FEW for one in trials)
    made = [
        f"{len(trials)} layouts: {right} read right as drafted, {few} with at most five things to "
        f"mend, {len(silent)} with something wrong",
        f"a person was asked {asked} times; wrong in {[one.seed for one in silent][:40]}",
        "",
    ]
    kinds = Counter(kind for one in trials for kind in one.kinds)
    for kind, number in kinds.most_common(40):
        seeds = [one.seed for one in trials if kind in one.kinds][:8]
        made.append(f"{number:5} {kind:45} {seeds}")
    return [*made, "", *_choices(trials)]


def _choices(trials: Sequence[Trial]) -> list[str]:
    """The share read right by each option."""
    made = []
    for choice, options in xml_layout.OPTIONS.items():
        told = []
        for option in options:
            some = [one for one in trials if getattr(one.layout, choice) == option]
            right = sum(not one.faults for one in some)
            told.append(f"{option or 'none'} {right}/{len(some)}")
        made.append(f"{choice}: {', '.join(told)}")
    return made


if __name__ == "__main__":
    main()
