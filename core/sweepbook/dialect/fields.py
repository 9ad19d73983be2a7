"""Which members of a record a source key may fill, and of which kind each is."""

_PLACES = ("site", "building", "floor", "space", "cabinet", "unit", "panel", "port")
_CABLE = (
    "maker",
    "part",
    "reel",
    "sheath_mark_near",
    "sheath_mark_far",
    "category",
    "construction",
    "conductor",
)
_INSTRUMENT = ("maker", "model", "serial", "firmware", "accuracy_level")


def _of_end(end: str) -> dict[str, str]:
    link, test = f"link.{end}", f"test.{end}"
    return {
        **{f"{link}.place.{level}": "text" for level in _PLACES},
        f"{link}.termination": "text",
        **{f"{link}.connector.{name}": "text" for name in ("maker", "part", "category")},
        f"{link}.connector.screened": "screened",
        **{f"{test}.instrument.{name}": "text" for name in _INSTRUMENT},
        f"{test}.instrument.calibrated_on": "day",
        f"{test}.instrument.calibration_due": "day",
        **{f"{test}.adaptor.{name}": "text" for name in ("part", "serial", "category")},
    }


FIELDS = {
    "link.label": "text",
    **_of_end("near"),
    **_of_end("far"),
    **{f"link.cable.{name}": "text" for name in _CABLE},
    "link.cable.nvp": "nvp",
    "test.purpose": "purpose",
    "test.limit": "limit",
    "test.configuration": "configuration",
    "test.started": "time",
    "test.ended": "time",
    "test.operator": "text",
    "test.ambient_c": "temperature",
    "test.field_reference.performed": "time",
    "test.field_reference.units": "list",
    "test.field_reference.adaptors": "list",
    "results.wire_map.pins": "wires",
    "results.wire_map.near": "wires",
    "results.wire_map.far": "wires",
    "results.wire_map.screen": "screen",
    "stated.overall": "verdict",
}
"""Kind by path. A "list" takes one entry a key, "wires" one or several contacts a key;
every other kind joins several keys by a blank."""

EXTERNAL_IDS = "link.external_ids"
"""A table of its own in a dialect: key of the source by the name of the other system."""
