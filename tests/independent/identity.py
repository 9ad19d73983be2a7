"""The record_id of a certification record (record-1.md, 13).

Left out: numbers that ECMAScript prints with other digits or exponents than Python does (below
10^-4, from 10^16 on), and names beyond U+FFFF, which UTF-16 sorts otherwise.
"""

import hashlib
import json
from typing import Any

NO_EVIDENCE = {"schema", "record_id", "origin", "attachments", "resolved", "provenance"}


def whole(value: Any) -> Any:
    """The value, with every whole number written without a decimal mark."""
    if isinstance(value, dict):
        return {name: whole(member) for name, member in value.items()}
    if isinstance(value, list):
        return [whole(member) for member in value]
    return int(value) if isinstance(value, float) and value.is_integer() else value


def record_id(record: dict[str, Any]) -> str:
    """SHA-256 of the canonical text of what was measured and stated."""
    evidence = {name: whole(record[name]) for name in record if name not in NO_EVIDENCE}
    text = json.dumps(evidence, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return "sb0-" + hashlib.sha256(text.encode()).hexdigest()
