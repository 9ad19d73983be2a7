"""Which dialects fit the head of a file, by its root element. Nothing is validated."""

from collections.abc import Iterator

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.raw import Fault
from sweepbook.formats import Claim, ReadSetting, Strength
from sweepbook.source import Source
from sweepbook_plugins.xml.build import layout_of
from sweepbook_plugins.xml.head import Root, looks_like_xml, names_itself, root_of
from sweepbook_plugins.xml.stands import test_at

FORMAT = "xml"


def claims(source: Source, setting: ReadSetting) -> Iterator[Claim]:
    """Yield a claim for each dialect whose root element this is; why, where it is never parsed.

    Raises:
        BadDialect: one of the dialects cannot be used.
        UnreadableSource: the file cannot be opened.
    """
    if not looks_like_xml(source.head):
        return
    try:
        root = root_of(source.head)
    except Fault as fault:
        if names_itself(source.head):
            where = f"{fault.place}: " if fault.place else ""
            yield Claim(Strength.REFUSED, f"{where}{fault.message}")
        return
    for name in sorted(setting.dialects):
        dialect = setting.dialects[name]
        if dialect.format == FORMAT and (claim := claim_of(root, dialect)):
            yield claim


def claim_of(root: Root, dialect: Dialect) -> Claim | None:
    """What a dialect makes of a root element; None where it does not fit.

    A root in a namespace, or with a declared attribute, is a signature; a bare name is not.
    """
    layout = layout_of(dialect)
    step = layout.test.steps[0]
    if root.tag not in test_at(layout.test, dialect.meaning.grammar)[0].tags or any(
        root.attributes.get(condition.name) != condition.value for condition in step.conditions
    ):
        return None
    sure = bool(step.uri or step.conditions)
    shown = f"{step.shown} of {step.uri}" if step.uri else step.shown
    strength = Strength.SIGNATURE if sure else Strength.STRUCTURE
    return Claim(strength, f"its root element is {shown}", dialect)
