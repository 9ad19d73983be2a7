"""What is to be done with a file: layout and meaning of a dialect put into two trees of paths."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

from sweepbook.dialect.file_form import SHARED
from sweepbook.dialect.load import BadDialect
from sweepbook.dialect.model import BARE_ROLES, Dialect, Meaning
from sweepbook.dialect.names import Namer
from sweepbook.dialect.words import Ambiguous
from sweepbook_plugins.xml.build import layout_of
from sweepbook_plugins.xml.layout import (
    AxisForm,
    CurveForm,
    FigureForm,
    Held,
    Layout,
    PointForm,
    RowForm,
)
from sweepbook_plugins.xml.paths import Path, Stand, Step, parse
from sweepbook_plugins.xml.spelled import columns, spelled, spread, words
from sweepbook_plugins.xml.stands import stand, tags_of, test_at
from sweepbook_plugins.xml.tree import SKIPPED, Node
from sweepbook_plugins.xml.used import joined, naming, used, used_by
from sweepbook_plugins.xml.wires import owners

if TYPE_CHECKING:
    from lxml.etree import _Element

Namers = Mapping[tuple[str, ...], Namer]
"""What looks up the name of a figure in a row, by the titles of its column: texts of the element
around the rows first, then the cells that name the row, then the title."""


@dataclass(frozen=True, eq=False)
class Named:
    """A form of curves or figures with what looks up its names.

    Attributes:
        form: the form.
        namer: one column a template step of the path, then one a declared text, then that of the
            values of a table.
        tags: how many elements up each template step stands.
        held: what the rows of a table may hold.
        in_rows: what looks up the names of figures in rows.
    """

    form: CurveForm | FigureForm
    namer: Namer
    tags: tuple[tuple[int, Step], ...]
    held: Held = field(default_factory=Held)
    in_rows: Namers = field(default_factory=dict)


@dataclass(frozen=True)
class PointsAt:
    """Where curves with an element a point stand.

    Attributes:
        form: how their points are written.
        steps: from the curve outwards to the test.
    """

    form: PointForm
    steps: tuple[Stand, ...]

    def fits(self, curve: "_Element") -> bool:
        """Whether a curve stands there, as far as names and attributes of elements tell."""
        element: _Element | None = curve
        for tags, conditions in self.steps:
            if element is None or element.tag not in tags:
                return False
            if any((element.get(of.name) or "").strip() != of.value for of in conditions):
                return False
            element = element.getparent()
        return True


@dataclass(frozen=True, eq=False)
class Plan:
    """All that the reader looks up while it goes through a file.

    Attributes:
        layout: the reader's half of the dialect.
        meaning: the core half.
        test: where tests stand, from the root inwards.
        inside: paths from a test.
        outside: paths from the root of the file.
        forms: curves and figures, by their numbers in the trees.
        axes: shared axes, by their numbers in the trees.
        of_axes: what looks up of which curves an axis is, by the same numbers.
        points: where points stand, by the name of the curves they may stand in.
        wires: how many elements above its text each key of a wire map has what holds a wire.
    """

    layout: Layout
    meaning: Meaning
    test: tuple[Stand, ...]
    inside: Node
    outside: Node
    forms: tuple[Named, ...]
    axes: tuple[AxisForm, ...]
    of_axes: tuple[Namer | None, ...]
    points: Mapping[str, tuple[PointsAt, ...]]
    wires: Mapping[str, int]


@lru_cache(maxsize=64)
def plan_of(dialect: Dialect) -> Plan:
    """The plan of a dialect.

    Raises:
        BadDialect: the dialect cannot be used.
    """
    layout = layout_of(dialect)
    builder = _Builder(layout, dialect.meaning)
    plan = builder.plan()
    if builder.problems:
        raise BadDialect(dialect.where or dialect.name, builder.problems)
    return plan


class _Builder:
    """Puts every path of a dialect into the trees, and notes what cannot be."""

    def __init__(self, layout: Layout, meaning: Meaning) -> None:
        self.layout = layout
        self.meaning = meaning
        self.inside = Node()
        self.outside = Node()
        self.problems: list[str] = []
        self.points: dict[str, tuple[PointsAt, ...]] = {}
        self.outer = tags_of(layout.test.steps)
        self.tabled: set[str] = set()

    def plan(self) -> Plan:
        """Build both trees."""
        layout = self.layout
        for path, keys in self.meaning.fields.items():
            for key in keys:
                self.property(f"fields.{path}", key)
        for system, key in self.meaning.external_ids.items():
            self.property(f"fields.link.external_ids.{system}", key)
        self.other_keys()
        self.single_figures()
        forms = []
        for number, (where, form) in enumerate(self.named()):
            if named := self.form(number, where, form):
                forms.append(named)
        of_axes = tuple(self.axis(number, axis) for number, axis in enumerate(layout.axes))
        for passed in [*layout.skip, *([layout.number] if layout.number else [])]:
            self.skip(passed)
        for tag in self.tabled & self.points.keys():
            del self.points[tag]
        return Plan(
            layout,
            self.meaning,
            self.tests(),
            self.inside,
            self.outside,
            tuple(forms),
            layout.axes,
            of_axes,
            self.points,
            owners(self.meaning, layout.names),
        )

    def tests(self) -> tuple[Stand, ...]:
        """Where tests stand; words in the names of their elements say what their curves are of."""
        try:
            return test_at(self.layout.test, self.meaning.grammar)
        except ValueError as error:
            self.problems.append(f"xml.test: {error}")
            return ()

    def named(self) -> list[tuple[str, CurveForm | FigureForm]]:
        """Every form that has a name, with its key."""
        found: list[tuple[str, CurveForm | FigureForm]] = [
            (f"xml.curves[{at}]", form) for at, form in enumerate(self.layout.curves, 1)
        ]
        return found + [
            (f"xml.figures[{at}]", form) for at, form in enumerate(self.layout.figures, 1)
        ]

    def at(self, path: Path) -> list[Node]:
        """Nodes at a path; one from the root that leads into a test is one from the test."""
        steps = self.layout.test.steps
        if not path.absolute:
            return self.inside.grow(path.steps)
        if path.steps[: len(steps)] == steps:
            return self.inside.grow(path.steps[len(steps) :])
        return self.outside.grow(path.steps)

    def other_keys(self) -> None:
        """Keys that fill no field by themselves."""
        for key, of in self.meaning.several.items():
            self.property(f"{of.where}.key", key)
        for key in sorted(self.meaning.join_keys):
            self.property("join.key", key)

    def property(self, where: str, key: str) -> None:
        """A key of the source, which is a path here; what only a name or a cell says is none."""
        if key == SHARED or key in self.meaning.names_within:
            return
        try:
            path = parse(key, self.layout.names)
        except ValueError as error:
            self.problems.append(f"{where}: {error}")
            return
        if path.up:
            self.problems.append(f"{where}: {key!r} leads out of the test; write it from the root")
            return
        for node in self.at(path):
            keys = node.keys.setdefault(path.attribute or "", [])
            if key not in keys:
                keys.append(key)

    def single_figures(self) -> None:
        """Keys out of templates; words that can be no names of elements make some of them void."""
        before = list(self.problems)
        keys = list(self.meaning.figure_keys)
        for key in keys:
            self.property("figures", key)
        faults = self.problems[len(before) :]
        self.problems = before + (faults[:1] if len(faults) == len(keys) else [])

    def form(self, number: int, where: str, form: CurveForm | FigureForm) -> Named | None:
        """A form with its names; its elements, and what it uses, are put into the tree."""
        steps = form.path.steps
        outer = [(len(steps) + up, step) for up, step in self.outer]
        tags = (*outer, *tags_of(steps))
        named: list[tuple[str, ...]] = [(step.local,) for _, step in tags]
        named += [templates for _, _, templates in form.name.sources]
        table = form.table if isinstance(form, CurveForm) else None
        named += [table.values] if table else []
        row = form.row if isinstance(form, FigureForm) else None
        roles = row.roles if row else form.roles if isinstance(form, FigureForm) else ("value",)
        bare = set(roles) <= BARE_ROLES
        try:
            namer = Namer(named, self.meaning.grammar, bare=bare)
            in_rows = self.in_rows(row, named, bare=bare) if row else {}
        except (Ambiguous, ValueError) as error:
            self.problems.append(f"{where}.name: {error}")
            return None
        texts = namer.texts()[len(outer) : len(tags)]
        for node in spread(self.inside, steps, texts):
            node.forms.append(number)
        if isinstance(form, CurveForm) and form.point and steps:
            at = PointsAt(form.point, stand(steps, texts))
            for tag in at.steps[0][0]:
                self.points[tag] = (*self.points.get(tag, ()), at)
        held: dict[Path, str] = {}
        ignored: list[Path] = []
        uses = used(form)
        if table:
            ignored = [at for of in table.ignored for at in spelled(of, self.meaning.grammar)]
            self.tabled |= stand(steps, texts)[0][0] if steps else set()
        if table and not table.titles:
            held, why = columns(namer.texts()[-1], self.layout.names)
            self.problems += [f"{where}.point.value: {why}"] if why else []
            uses += [joined(table.path, path) for path in held]
        for path in uses:
            kept = steps[: len(steps) - path.up] if path.up else steps
            for node in spread(self.inside, kept, texts):
                node.own(path._replace(up=0), number)
        return Named(form, namer, tags, Held(held, frozenset(ignored)), in_rows)

    def in_rows(self, row: RowForm, around: Sequence[Sequence[str]], *, bare: bool) -> Namers:
        """What looks up the names of figures in rows.

        Raises:
            Ambiguous, ValueError: a template cannot be used.
        """
        columns = [*around, *(templates for _, templates in row.name)]
        return {
            titles: Namer([*columns, titles], self.meaning.grammar, bare=bare)
            for titles in row.roles.values()
        }

    def axis(self, number: int, form: AxisForm) -> Namer | None:
        """Elements of shared axes, and what is used of them; what looks up their names."""
        sources = form.of.sources if form.of else ()
        uses = [
            *used_by(form.frequencies),
            *(of for _, path, _ in sources for of in naming(path) if not of.up),
        ]
        for node in self.at(form.path):
            node.axes.append(number)
            for path in [*uses, *([form.name] if form.name else [])]:
                node.own(path, axis_owner(number))
        try:
            templates = [of for *_, of in sources]
            return Namer(templates, self.meaning.grammar, bare=True) if sources else None
        except (Ambiguous, ValueError) as error:
            self.problems.append(f"xml.axes[{number + 1}].name: {error}")
            return None

    def skip(self, path: Path) -> None:
        """What means nothing."""
        try:
            grammar = self.meaning.grammar
            texts = words((step.local for step in path.steps if step.is_template), grammar)
            paths = spelled(path._replace(steps=()), grammar)
        except ValueError as error:
            self.problems.append(f"xml.skip: {error}")
            return
        nodes = self.at(path) if not texts else spread(self.inside, path.steps, texts)
        for node in nodes:
            if path.attribute is None and path is not self.layout.number:
                node.skip = True
                continue
            for of in paths:
                node.owners.setdefault(of.attribute or "", set()).add(SKIPPED)


def axis_owner(number: int) -> int:
    """What stands for an axis among the forms that own a text."""
    return -2 - number
