"""Names of two files that belong together: what both share stands for `{}` in their forms."""

PACKED = (".gz", ".zst")
"""Endings of packed files, which do not count."""


def turned(name: str, form: str, into: str) -> str | None:
    """What stands for `{}` in one form, put into the other."""
    for ending in PACKED:
        name = name.removesuffix(ending)
    before, mark, after = form.partition("{}")
    if not mark:
        return into if name == form else None
    if len(name) <= len(before) + len(after) or not name.startswith(before):
        return None
    if not name.endswith(after):
        return None
    return into.replace("{}", name[len(before) : len(name) - len(after)])
