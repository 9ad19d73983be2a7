"""Names of two files that belong together: what both share stands for `{}` in their forms."""

PACKED = (".gz", ".zst")
"""Endings of packed files, which do not count."""


def unpacked(name: str) -> str:
    """The name of a file without the ending of a packed one."""
    for ending in PACKED:
        name = name.removesuffix(ending)
    return name


def turned(name: str, form: str, into: str) -> str | None:
    """What stands for `{}` in one form, put into the other."""
    name = unpacked(name)
    before, mark, after = form.partition("{}")
    if not mark:
        return into if name == form else None
    if len(name) <= len(before) + len(after) or not name.startswith(before):
        return None
    if not name.endswith(after):
        return None
    return into.replace("{}", name[len(before) : len(name) - len(after)])
