"""Fields that change nothing in a chart or on a curve, and those that aren't asked for.

The phone finds them by the same rules, in `static/js/face/flat.js`.
"""

from __future__ import annotations

from collections.abc import Sequence

from site_src.model.fields import Field, in_sight
from site_src.model.lookup import Lookup


def are_in_sight(lookup: Lookup, *fields: Field) -> bool:
    """Say whether a view's fields are asked for in the default set-up."""
    defaults = {field.key: field.default for field in lookup.fields}
    return all(in_sight(field, defaults) for field in fields)


def is_flat(rows: Sequence[Sequence[float | None]]) -> bool:
    """Say whether all rows hold the same, and not only gaps.

    >>> is_flat([[1.0, None], [1.0, None]]), is_flat([[1.0], [2.0]]), is_flat([[None], [None]])
    (True, False, False)
    >>> is_flat([])
    False
    """
    if not rows:
        return False
    same = all(list(row) == list(rows[0]) for row in rows)
    return same and any(value is not None for value in rows[0])


def flat_words(fields: Sequence[Field]) -> str:
    """Say that fields change nothing. Optional entries, which could overrule them, are empty."""
    return " ".join(f"{field.label} changes nothing in this set-up." for field in fields)
