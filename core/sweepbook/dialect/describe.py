"""A dialect in a few rows, for people."""

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.parameters import CROSSTALK, FAR_END


def describe(dialect: Dialect) -> list[tuple[str, str]]:
    """Rows of (what, value): name, reader, digest, and what the words come to."""
    meaning = dialect.meaning
    grammar, numbers = meaning.grammar, meaning.numbers
    named = {word for words in meaning.words.parameters.values() for word in words}
    rows = [
        ("dialect", dialect.name),
        ("title", dialect.title),
        ("format", dialect.format),
        ("sha256", dialect.sha256),
        ("layout", str(dialect.layout.get("layout", ""))),
        ("parameters", ", ".join(sorted(named))),
        ("units", ", ".join(unit for unit in numbers.units.values() if unit)),
        ("decimal mark", numbers.notation.decimal),
        ("written negative", ", ".join(sorted(meaning.negative)) or "nothing"),
        *([("stated limits of these", "written positive")] if meaning.limits_positive else []),
        ("zone of times", meaning.calendar.zone or "as stated, else unknown"),
    ]
    if named & set(CROSSTALK):
        rows.append(("first pair of two", f"the {grammar.first} one"))
    if named & set(FAR_END):
        rows.append(("end of far-end crosstalk", f"the {grammar.far_end} one"))
    return rows
