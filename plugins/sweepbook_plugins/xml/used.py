"""Paths, from its element, of all that a form of curves, figures or axes uses."""

from sweepbook_plugins.xml.layout import CurveForm, FigureForm, ListForm, TitlesForm
from sweepbook_plugins.xml.paths import Path, Step

OWN_TEXT = Path(False, 0, (), None)
"""The path of the text of an element from there."""


def used(form: CurveForm | FigureForm) -> list[Path]:
    """Paths of what names an element of a form, and of what it holds."""
    found = [of for _, path, _ in form.name.sources for of in naming(path)]
    if isinstance(form, FigureForm):
        rows = _titled(form.row.path, form.row.titles) if form.row else []
        return [*found, *form.roles.values(), *rows]
    if form.table and form.table.frequency:
        found.append(joined(form.table.path, form.table.frequency))
    if form.table and form.table.titles:
        found += _titled(form.table.path, form.table.titles)
    if form.point:
        below = [path for path in (form.point.frequency, form.point.value) if path]
        found += [joined(form.point.path, path) for path in below]
    for numbers in (form.values, form.frequencies):
        found += used_by(numbers) if numbers else []
    return found + ([form.axis] if form.axis else [])


def naming(path: Path) -> list[Path]:
    """Paths of a text that names something, and of what refers to it and is referred to there."""
    found, steps = [path.loose], path.loose.steps
    for at, step in enumerate(path.steps, 1):
        for of in (one for one in step.conditions if one.refers):
            there = Path(path.absolute, path.up, steps[:at], of.name)
            if of.kind != "@":
                uri, _, local = of.name.rpartition("}")
                inner = Step(uri.removeprefix("{"), local, (), local)
                there = Path(path.absolute, path.up, (*steps[:at], inner), None)
            found += [OWN_TEXT._replace(attribute=of.value), there]
    return found


def used_by(numbers: ListForm) -> list[Path]:
    """Paths of all that a list of numbers is made of."""
    found = [path for path in (numbers.text, numbers.point) if path]
    if run := numbers.run:
        parts = (run.start, run.step, run.count, run.stop)
        found += [joined(run.path, part) for part in parts if part]
    return found


def joined(path: Path, then: Path) -> Path:
    """A path, and another one from its end."""
    return Path(path.absolute, path.up, path.steps + then.steps, then.attribute)


def _titled(row: Path, titles: TitlesForm) -> list[Path]:
    """Paths of the titles of rows, and of their cells."""
    texts = [_from(titles.path, text) for text in titles.texts] or [titles.path]
    if titles.called:
        return [*texts, _from(titles.path, titles.called.name)]
    return [*texts, joined(row, titles.cells or OWN_TEXT)]


def _from(path: Path, then: Path) -> Path:
    """A path, and another one from its end that may lead out of it again."""
    kept = path.steps[: max(0, len(path.steps) - then.up)]
    up = max(0, then.up - len(path.steps))
    return Path(path.absolute, path.up + up, kept + then.steps, then.attribute)
