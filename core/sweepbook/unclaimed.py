"""What to say of a file that no format knows: what it begins like, where that is plain."""

_UNPACK = "Unpack it yourself and give what comes out."
_DESCRIBE = (
    "If it is an export, describe its layout in a dialect (`sweepbook formats --guide` prints how) "
    "and name that with --dialect; `sweepbook formats` lists what is known."
)
_KINDS = (
    (0, b"\x1f\x8b", "it is packed twice (gzip)", _UNPACK),
    (0, b"BZh", "it is packed (bzip2)", _UNPACK),
    (0, b"\xfd7zXZ\0", "it is packed (xz)", _UNPACK),
    (0, b"7z\xbc\xaf\x27\x1c", "it is an archive (7z)", _UNPACK),
    (0, b"Rar!\x1a\x07", "it is an archive (rar)", _UNPACK),
    (257, b"ustar", "it is an archive (tar)", _UNPACK),
    (0, b"PK\x03\x04", "it is a workbook or the like", "Save the sheet with the sweeps as CSV."),
    (0, b"%PDF-", "it is a printed page (PDF)", "Export the sweeps themselves, as text or XML."),
    (
        0,
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1",
        "it is a document of an older office program",
        "Save its sheet as CSV.",
    ),
    (0, b"\xff\xfe", "it is text in UTF-16", f"Save it as UTF-8. {_DESCRIBE}"),
    (0, b"\xfe\xff", "it is text in UTF-16", f"Save it as UTF-8. {_DESCRIBE}"),
)
"""Where a kind of file has which bytes, what it is, and what to do. Of gzip RFC 1952 2.3.1, of ZIP,
such as a workbook, APPNOTE.TXT 6.3.10 4.3.7; the others recalled."""


def told(head: bytes) -> tuple[str, str]:
    """What is wrong, and what to do next.

    Args:
        head: the first bytes of the file, unpacked.
    """
    for at, magic, what, todo in _KINDS:
        if head[at:].startswith(magic):
            return f"no format or dialect knows this file: {what}.", todo
    return "no format or dialect knows this file.", _DESCRIBE
