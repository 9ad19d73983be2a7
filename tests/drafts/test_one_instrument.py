"""The one instrument that an export names without an end: common practice, no source."""

import pytest

from sweepbook.draft import fields

NEAR = "test.near.instrument."


def filled(properties: dict[str, list[str]]) -> dict[str, str]:
    """The key by the member of an instrument that it fills."""
    found = fields.guess(properties, ("base", "mate"))
    return {one.path: one.keys[0] for one in found if ".instrument." in one.path}


@pytest.mark.parametrize(
    ("member", "key", "text"),
    [
        ("serial", "Serial number", "QV-30712"),
        ("serial", "Seriennummer", "QV-30712"),
        ("serial", "instrument/@serialNo", "QV-30712"),
        ("serial", "unit/@sn", "QV-30712"),
        ("model", "instrument/@type", "Quillvane 40"),
        ("model", "Tester", "Quillvane 40"),
        ("model", "[Angaben]/Gerät", "Quillvane 40"),
        ("firmware", "unit/@rev", "3.1.0"),
        ("firmware", "instrument/@embedded", "3.1.0"),
    ],
)
def test_it_is_taken_for_the_near_one(member: str, key: str, text: str) -> None:
    assert filled({key: [text], "Label": ["A-1", "A-2"]}) == {f"{NEAR}{member}": key}


def test_it_is_told_as_assumed() -> None:
    (one,) = fields.guess({"Serial number": ["QV-30712"]}, None)
    assert one.why.startswith("no key says of which unit this is")


@pytest.mark.parametrize(
    "properties",
    [
        {"Tester": ["Ida Lowmoor", "B. Fenn"]},  # who tested
        {"Tester": ["QV-30712"]},  # a number of which nothing says what it is of
        {"Adaptor serial": ["HP-2204"]},
        {"cable/@type": ["Weft 6A U/UTP"]},
        {"Serial number": ["QV-1"], "Serial no": ["QV-2"]},  # which of two
    ],
)
def test_what_is_of_no_instrument_or_of_one_of_two_is_left(
    properties: dict[str, list[str]],
) -> None:
    assert filled(properties) == {}


def test_one_that_names_its_end_goes_ahead() -> None:
    both = {"Serial number base": ["QV-1"], "Serial number mate": ["QV-2"], "Serial": ["QV-3"]}
    assert filled(both) == {
        f"{NEAR}serial": "Serial number base",
        "test.far.instrument.serial": "Serial number mate",
    }
