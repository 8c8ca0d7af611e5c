"""Your truck: the entries that matter most, one to a screen, once for all pages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from site_src.face.form import form_context
from site_src.lookups import boost, fuel
from site_src.model.fields import Field
from site_src.model.lookup import Lookup
from site_src.model.page import Page

ASKED: tuple[tuple[Lookup, str], ...] = (
    (boost.LOOKUP, "engine_displacement"),
    (boost.LOOKUP, "blower_displacement"),
    (boost.LOOKUP, "blower_pulley"),
    (boost.LOOKUP, "crank_pulley"),
    (boost.LOOKUP, "engine_speed"),
    (boost.LOOKUP, "limiter_speed"),
    (boost.LOOKUP, "rotor_limit"),
    (boost.LOOKUP, "altitude"),
    (fuel.LOOKUP, "fuel"),
    (fuel.LOOKUP, "injector_flow"),
)
"""In the order in which a builder has them at hand; each is an entry of that page."""


def _fields() -> tuple[Field, ...]:
    """Return the entries, none of them folded away or hidden."""
    found = [next(f for f in page.fields if f.key == key) for page, key in ASKED]
    return tuple(replace(field, first=True, when=None, group="") for field in found)


def _context() -> Mapping[str, object]:
    """Return what the template is given."""
    fields = _fields()
    return form_context(fields) | {"asked": [field.key for field in fields]}


PAGE = Page(
    key="truck",
    title="Your truck",
    short="Truck",
    question="Which truck is it?",
    stage="plan",
    template="truck.html",
    context=_context,
)
