"""Elements without children, most of which are like one before: what becomes of them is known.

The tests of a file are alike but for what their texts say. So what a dialect makes of an element is
worked out once for all that stand at such a place, have these attributes and are named by the same
texts. It is worked out only where it is plain; else the long way is taken, which has words for it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.raw import Name
from sweepbook_plugins.xml.found import joined
from sweepbook_plugins.xml.head import MOST_ATTRIBUTES
from sweepbook_plugins.xml.layout import CurveForm
from sweepbook_plugins.xml.paths import Names
from sweepbook_plugins.xml.plan import Plan
from sweepbook_plugins.xml.shared import Shared, are_short, shared
from sweepbook_plugins.xml.stencil import HERE
from sweepbook_plugins.xml.tree import Match, keys_of, numbers_of, unconditional

if TYPE_CHECKING:
    from lxml.etree import _Element

MOST_KNOWN = 10_000
"""Elements of one dialect that are kept in mind, a few hundred bytes each."""
MOST_NAMES = 1_000
"""Names of elements at one place that are."""

Known = dict[tuple[object, ...], "Leaf | None"]

Keys = tuple[str, ...]
CurveOf = tuple[CurveForm, Name]
FiguresOf = tuple[Name, tuple[tuple[str, str], ...]]


class Leaf(NamedTuple):
    """What becomes of an element without children.

    Attributes:
        said: what names it, for people.
        curve: form and name of the curve whose values its text is.
        figures: name of single figures, with each role and the attribute that holds it, "" for
            the text.
        attributes: those that nothing before takes, with the path of each and the keys that want
            it, if any.
        text: keys that want the text; None for one that nothing takes.
    """

    said: str = ""
    curve: CurveOf | None = None
    figures: FiguresOf | None = None
    attributes: tuple[tuple[str, str, Keys], ...] = ()
    text: Keys | None = None


@dataclass(frozen=True, eq=False)
class Kind:
    """Elements of one name in elements at one place.

    Attributes:
        of: what the dialect knows of them.
        path: their path.
        names: the namespaces of the dialect.
        failed: forms that could not name an element around them.
        forms: the forms that they may have, if any.
        known: what becomes of those without children, by their attributes and what names them;
            that of other kinds as well.
    """

    of: Match
    path: str
    names: Names
    failed: frozenset[int]
    forms: Shared | None
    known: Known

    def leaf(self, element: "_Element") -> Leaf | None:
        """What becomes of an element without children; None where the long way is to be taken."""
        names = element.keys()
        if len(names) > MOST_ATTRIBUTES:
            return None
        forms = self.forms
        texts = forms.key(element, forms.texts(element)) if forms else ()
        key = (self, *names, *texts)
        try:
            return self.known[key]
        except KeyError:
            leaf = _leaf(element, self)
        if len(self.known) >= MOST_KNOWN:
            self.known.clear()
        if are_short((*names, *texts)):
            self.known[key] = leaf
        return leaf


class Kinds(dict[str, Kind | None]):
    """What is known of the elements in elements at one place, by name.

    None stands for a name that does not tell alone what the dialect knows of an element.

    Args:
        plan: what is looked for.
        of: what the dialect knows of the elements around them.
        path: path of these.
        failed: forms that could not name one of these, or an element around them.
    """

    def __init__(self, plan: Plan, of: Match, path: str, failed: frozenset[int]) -> None:
        super().__init__()
        self._plan = plan
        self._of = of
        self._path = path
        self._failed = failed

    def __missing__(self, tag: str) -> Kind | None:
        if len(self) >= MOST_NAMES:
            self.clear()
        kind = self[tag] = self._kind(tag)
        return kind

    def _kind(self, tag: str) -> Kind | None:
        of = unconditional(self._of.nodes, tag)
        if of is None or ("child", tag) in self._of.chosen or any(node.skip for node in of.nodes):
            return None
        axes, numbers = numbers_of(of.nodes)
        forms = shared(self._plan, numbers) if numbers else None
        if axes or (forms and (forms.tables or forms.rows)):
            return None
        names = self._plan.layout.names
        path = joined(self._path, names.show(tag))
        return Kind(of, path, names, self._failed, forms, _known(self._plan))


@lru_cache(maxsize=64)
def _known(plan: Plan) -> Known:
    """What is kept in mind of the elements of one dialect."""
    del plan
    return {}


@lru_cache(maxsize=256)
def kinds(plan: Plan, of: Match, path: str, failed: frozenset[int]) -> Kinds:
    """What is known of the elements in elements at one place; see `Kinds`."""
    return Kinds(plan, of, path, failed)


def _leaf(element: "_Element", kind: Kind) -> Leaf | None:
    """What becomes of an element that is like this one."""
    leaf, forms, failed = Leaf(), kind.forms, kind.failed
    if forms is not None:
        said, names = forms.told(element, forms.texts(element))
        curve, figures = _curve(forms, names), _figures(forms, names)
        found = curve or figures
        if found is None or (curve and figures):
            return None
        number, leaf = found
        leaf = leaf._replace(said=said)
        failed |= forms.numbers - {number}
    known = keys_of(kind.of.nodes, failed)
    left = [name for name, _ in element.items() if known.get(name) != ()]
    attributes = [(name, known.get(name, ())) for name in left]
    kept = [
        (name, kind.names.inner(kind.path, name), keys)
        for name, keys in attributes
        if keys or ("@", name) not in kind.of.chosen
    ]
    return leaf._replace(attributes=tuple(kept), text=known.get(""))


def _curve(forms: Shared, names: Mapping[int, Name]) -> tuple[int, Leaf] | None:
    """The curve whose list of values is the text of an element; None where none is, or it may be.

    Forms of points come before those of lists, and there are none in an element without children.
    """
    for number, form in forms.curves:
        if number in names and form.point is None:
            plain = form.values is not None and form.values.text == HERE
            return (number, Leaf(curve=(form, names[number]))) if plain else None
    return None


def _figures(forms: Shared, names: Mapping[int, Name]) -> tuple[int, Leaf] | None:
    """The single figures that one form finds in an element itself; None for several forms."""
    fitting = [(number, form) for number, form in forms.figures if number in names]
    if len(fitting) != 1:
        return None
    ((number, form),) = fitting
    roles = tuple((role, path.attribute or "") for role, path in form.roles.items())
    inside = all(path.up == 0 and not path.steps for path in form.roles.values())
    return (number, Leaf(figures=(names[number], roles))) if inside else None
