"""What stands in a file once and counts for every test of it, such as lines above all headings."""

from sweepbook.dialect.raw import RawTest


def with_whole_file(test: RawTest, whole: RawTest) -> RawTest:
    """The test with what the file says of every test; the test's own word counts."""
    for key, cell in whole.properties.items():
        if test.properties.setdefault(key, cell).texts != cell.texts:
            kept, text = f"{key} (whole file)", "\n".join(cell.texts)
            test.extra[kept] = f"{test.extra[kept]}\n{text}" if kept in test.extra else text
    for key, text in whole.extra.items():
        test.extra[key] = f"{text}\n{test.extra[key]}" if key in test.extra else text
    test.faults[:0] = whole.faults
    test.whole_file = whole
    return test
