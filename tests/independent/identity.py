"""The identity of a record, by record-0.md 13 alone; the standard library only."""

import hashlib
import json
from typing import Any

Json = dict[str, Any]
NOT_IN_THE_DIGEST = {"schema", "record_id", "origin", "attachments", "resolved", "provenance"}


def record_id(record: Json) -> str:
    """Exact while no number needs an exponent and all names are of the BMP (record 13)."""

    def shortest(text: str) -> float:
        return float(text) if float(text) % 1 else int(float(text))

    kept = {name: value for name, value in record.items() if name not in NOT_IN_THE_DIGEST}
    values = json.loads(json.dumps(kept), parse_float=shortest)
    text = json.dumps(values, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return "sb0-" + hashlib.sha256(text.encode()).hexdigest()
