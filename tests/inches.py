"""The example truck of a shop that measures in inches, for tests of what its phones work out."""

from __future__ import annotations

from typing import Any

from site_src.lookups import lookup as lookup_named
from site_src.lookups import truck
from site_src.model.fields import Number, Parts
from site_src.model.lookup import Lookup


def declared(field: Number, value: float, unit: str) -> float:
    """Return a value in the field's declared unit, as the phone converts it."""
    there, here = field.quantity.unit(unit), field.declared
    return (value * there.factor + there.offset - here.offset) / here.factor


def of_inches(page: Lookup) -> dict[str, Any]:
    """Return the entries of an inch shop's example truck, in declared units."""
    found: dict[str, Any] = {}
    for field in page.fields:
        if isinstance(field, Parts):
            units = {f.key: f for f in field.fields if isinstance(f, Number) and f.in_inches}
            found[field.key] = [
                {
                    key: declared(units[key], float(value), units[key].in_inches.unit)  # type: ignore[union-attr]
                    if key in units
                    else value
                    for key, value in row.items()
                }
                for row in field.in_inches
            ]
        elif not isinstance(field, Number) or field.default is None:
            continue
        elif (source := truck.FOLLOWS.get(field.key)) and source.page != page.key:
            other = lookup_named(source.page)
            value = other.explain(of_inches(other)).symbols[source.symbol]
            found[field.key] = field.declared.from_si(value)
        elif field.in_inches and field.in_inches.default is not None:
            found[field.key] = declared(field, field.in_inches.default, field.in_inches.unit)
        else:
            found[field.key] = field.default
    return found
