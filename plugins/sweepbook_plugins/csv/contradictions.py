"""What the schema of the layout cannot say: bad templates, marks that clash, names left open."""

from collections.abc import Iterator

from sweepbook.dialect import names
from sweepbook_plugins.csv.forms import (
    FREQUENCY,
    CurveForm,
    CurvesForm,
    Layout,
    RowsForm,
    Section,
    is_template,
)
from sweepbook_plugins.csv.grid import begins_number
from sweepbook_plugins.csv.line_marks import NUMBER
from sweepbook_plugins.csv.numbered import numbered


def contradictions(layout: Layout, file: tuple[str, ...] = ()) -> list[str]:
    """Everything that is wrong with a layout, each with its key.

    Args:
        layout: the layout.
        file: the template of the names of files, where these say what is in them.
    """
    found = []
    if layout.quote == layout.delimiter:
        found.append("csv.quote: is the delimiter as well")
    if layout.aligned:
        found += _aligned_faults(layout)
    found += _hidden_headings(layout)
    found += _first_lines(layout)
    headed = {template for section in layout.sections for template in section.heading}
    for section in layout.sections:
        if section.within and section.within not in headed:
            found.append(f"{section.where}.within: {section.within!r} is the heading of no section")
        if section.where == "csv":
            found += [] if section.form else ["csv: has neither curves nor rows"]
        elif not (section.heading or section.form or section.marks):
            found.append(f"{section.where}: has neither a heading nor a mark nor curves nor rows")
        elif section.form and section.form.test:
            found.append(f"{_form_key(section)}.test: is for files of one table; see csv.test")
        found += _of_section(section, layout, file)
        found += _mark_faults(section, layout)
        found += _row_faults(section, layout)
        if layout.marks.any and section.form and section.form.test:
            found.append(
                f"csv.test: does not go with {_form_key(section)}.test; rows tell the tests apart, "
                "or lines between them do"
            )
    return list(dict.fromkeys(found))


def _hidden_headings(layout: Layout) -> Iterator[str]:
    """Headings that are lines to skip as well, so that nothing below them is known."""
    headed = {text: section.where for section in layout.sections for text in section.heading}
    headed |= dict.fromkeys(layout.headings, "csv.preamble")
    for line in sorted(layout.skip):
        for text in dict.fromkeys((line, line.replace(layout.quote or "", ""))):
            if where := headed.get(text):
                yield f"csv.skip: {line!r} is a heading of {where} as well, which is never seen so"
                break


def _first_lines(layout: Layout) -> Iterator[str]:
    """Headings that differ by a number alone, where such lines begin tests: keys get it too."""
    for some in numbered(layout):
        if all(map(layout.marks.first.found, some.headings)):
            yield (
                f"csv.sections: the headings {some} begin as csv.test.first_line says that a test "
                f"does; {some.change}, since each test has another number"
            )


def _mark_faults(section: Section, layout: Layout) -> Iterator[str]:
    """Marks of rows that are those of other tables as well, or of comments."""
    for mark in sorted(section.marks):
        if others := [
            of.where
            for of in layout.sections
            if of is not section and mark in of.marks and _stand_together(section, of)
        ]:
            yield f"{section.where}.mark: {mark!r} is the mark of {', '.join(others)} as well"
        if f"{mark}{layout.delimiter}".startswith(layout.comments):
            yield f"{section.where}.mark: lines that begin with {mark!r} are csv.comment"
        if mark in (layout.headings | layout.upper_titles):
            yield f"{section.where}.mark: {mark!r} begins a heading, or a line of titles, as well"


def _row_faults(section: Section, layout: Layout) -> Iterator[str]:
    """Rows of frequencies that are of no curves, or of which it is not clear where they begin."""
    key = f"{section.where}.frequencies"
    if not section.frequencies:
        return
    if section.form:
        yield f"{key}: does not go with curves and rows, which are sections of their own"
    if section.frequencies != section.columns[-1]:
        yield f"{key}: {section.frequencies!r} is not the last of {section.where}.columns"
    forms = [of.form.curve for of in layout.sections if isinstance(of.form, RowsForm)]
    for mark in sorted(section.marks.difference(of.frequency for of in forms if of)):
        yield f"{key}: no rows.curve has frequency = {mark!r}, so that its curves are not known"


def _stand_together(one: Section, other: Section) -> bool:
    """Whether rows of both sections may stand at one place."""
    alike = set(one.heading) & set(other.heading) and one.within == other.within
    return bool(alike) or not (one.heading and other.heading)


def _aligned_faults(layout: Layout) -> Iterator[str]:
    """What does not go with cells that stand below their titles."""
    for name, there in (("upper_titles", layout.upper_titles), ("transposed", layout.transposed)):
        if there:
            yield f"csv.{name}: does not go with csv.aligned, whose titles stand in one line"


def _form_key(section: Section) -> str:
    return f"{section.where}.{'curves' if isinstance(section.form, CurvesForm) else 'rows'}"


def _of_section(section: Section, layout: Layout, file: tuple[str, ...]) -> Iterator[str]:
    around = [*file, *section.heading, *_outer(section, layout)]
    if not section.heading:
        around += [of for other in layout.sections for of in other.heading]
    counted = tuple(of.replace(NUMBER, "", 1) for of in section.heading)
    named = [(f"{section.where}.heading", counted)]
    where = _form_key(section)
    if isinstance(section.form, CurvesForm):
        named.append((f"{where}.name", section.form.name))
        named.append((f"{where}.other_columns", section.form.other_columns))
        if not any("{parameter}" in of for of in (*section.form.name, *around)):
            yield f"{where}.name: no template holds {{parameter}}"
        yield from _stated_faults(section.form, where)
    elif section.form:
        named += _templates(section.form, where)
        named.append((f"{where}.other_names", section.form.other_names))
        yield from _nameless(section.form, where, around)
        yield from _kind_faults(section.form, where)
        if section.form.curve:
            yield from _values_faults(section.form.curve, f"{where}.curve")
    yield from _frequency_faults(section.form, where)
    for key, templates in named:
        yield from (f"{key}: {fault}" for of in templates if (fault := names.check(of)))
    lacking = sorted((section.form.titles if section.form else set()) - set(section.columns))
    if section.columns and lacking:
        yield f"{section.where}.columns: lacks {', '.join(map(repr, lacking))}, named in {where}"


def _frequency_faults(form: RowsForm | CurvesForm | None, where: str) -> Iterator[str]:
    """Frequencies that stand below titles which cannot be told from others."""
    if isinstance(form, RowsForm) and form.point:
        for title in filter(is_template, form.point.frequency):
            where = f"{where}.point"
            yield f"{where}.frequency: {title!r} is a template; name the titles themselves"
    for title in form.frequency if isinstance(form, CurvesForm) else ():
        held = names.placeholders(title)
        if "number" in held and held != ["number"]:
            yield f"{where}.frequency: {title!r} may hold beside {NUMBER} no other braces"
        elif "number" not in held and (fault := names.check(title)):
            yield f"{where}.frequency: {fault}, or {NUMBER} for a running number"


def _stated_faults(form: CurvesForm, where: str) -> Iterator[str]:
    """Rows that state something of each curve and cannot be told from points, or from others."""
    texts = [text for titles in form.figures.values() for text in titles]
    for text in dict.fromkeys(texts):
        if texts.count(text) > 1:
            yield f"{where}.figures: {text!r} stands for two of them"
        if text in form.other_rows:
            yield f"{where}.figures: {text!r} stands in {where}.other_rows as well"
        if begins_number(text):
            yield f"{where}.figures: {text!r} begins as a frequency does"


def _values_faults(curve: CurveForm, where: str) -> Iterator[str]:
    """Values of a curve in a row without frequencies, or with more than one kind of them."""
    titled = bool(curve.frequency_titles)
    said = [name for name in ("frequency", "run") if getattr(curve, name)]
    said += [f"values with {FREQUENCY}"] if titled else []
    if len(said) != 1:
        found = f"there are {' and '.join(said)}" if said else "there is none of them"
        yield (
            f"{where}: the frequencies are told by one of frequency, run and values with "
            f"{FREQUENCY}; {found}"
        )
    for title in curve.values:
        if titled and (title.count(FREQUENCY) != 1 or names.placeholders(title) != ["frequency"]):
            yield f"{where}.values: {title!r} must hold {FREQUENCY} once, and no other braces"
        elif not titled and is_template(title):
            yield f"{where}.values: {title!r} may hold in braces only {FREQUENCY}"
    if curve.separator and (titled or not curve.values):
        yield f"{where}.separator: is for values in one cell; name its column in {where}.values"


def _outer(section: Section, layout: Layout) -> list[str]:
    """Templates of the headings around that of a section."""
    found: list[str] = []
    within, left = section.within, len(layout.sections)
    while within and left:
        left -= 1
        outer = next((other for other in layout.sections if within in other.heading), None)
        found += outer.heading if outer else ()
        within = outer.within if outer else ""
    return found


def _templates(rows: RowsForm, where: str) -> list[tuple[str, tuple[str, ...]]]:
    forms = [("point", rows.point.name)] if rows.point else []
    forms += [("curve", rows.curve.name)] if rows.curve else []
    forms += [("figures", form.name) for form in rows.figures]
    named = [
        (f"{where}.{name}.name.{title}", of) for name, form in forms for title, of in form.columns
    ]
    return named + [(where, tuple(filter(is_template, titles))) for titles in rows.named]


def _nameless(rows: RowsForm, where: str, around: list[str]) -> Iterator[str]:
    """Forms of which nothing says the parameter."""
    held = [("point", rows.point.name, [*rows.point.value])] if rows.point else []
    held += [("curve", rows.curve.name, [])] if rows.curve else []
    held += [
        ("figures", form.name, [title for titles in form.roles.values() for title in titles])
        for form in rows.figures
    ]
    for name, columns, titles in held:
        texts = [*around, *titles, *(of for templates in columns.templates for of in templates)]
        if not any("parameter" in names.placeholders(text) for text in texts):
            yield f"{where}.{name}.name: no column holds {{parameter}}"


def _kind_faults(rows: RowsForm, where: str) -> Iterator[str]:
    forms = [("point", rows.point.kinds)] if rows.point else []
    forms += [("curve", rows.curve.kinds)] if rows.curve else []
    forms += [("figures", form.kinds) for form in rows.figures]
    forms += [("property", rows.properties.kinds)] if rows.properties else []
    if rows.kind is None and rows.other_kinds:
        yield f"{where}.other_kinds: names a kind of row, but {where}.kind names no column"
    for name, kinds in forms:
        if rows.kind is None and kinds:
            yield f"{where}.{name}.kind: names a kind of row, but {where}.kind names no column"
        if rows.kind is not None and not kinds:
            yield f"{where}.{name}.kind: is missing, since {where}.kind names a column"
