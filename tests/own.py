"""Set-ups in which a person has entered his own parts and limits, at their usual values."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from site_src.model.fields import Number, Parts
from site_src.model.lookup import Lookup


def with_own(lookup: Lookup, entered: Mapping[str, Any] | None = None, **more: Any) -> Any:
    """Return a set-up in which no limit is an example any more, so that everything is judged."""
    own: dict[str, Any] = {
        field.key: [dict(row) for row in field.default]
        if isinstance(field, Parts)
        else field.default
        for field in lookup.fields
        if isinstance(field, Number | Parts) and field.example
    }
    return own | dict(entered or {}) | more
