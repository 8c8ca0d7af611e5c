"""Friction in hoses and lines: what every page about a liquid in a pipe looks up."""

from __future__ import annotations

from calc.domain import Real
from calc.pipes import darcy_friction_factor, decay
from site_src.tables.compiler import cubic
from site_src.tables.trace import tabulated

ROUGHNESS = 1.5e-6
"""Inside of drawn tube and smooth hose, m. Handbook value."""


def _drag(reynolds: Real, roughness: Real) -> Real:
    """Friction factor times Reynolds number: flat in laminar flow."""
    return reynolds * darcy_friction_factor(reynolds, roughness)


DRAG = tabulated(
    "friction_times_reynolds",
    _drag,
    # No kinks, but the flow changes its law at 2,300, and its scale beyond.
    cubic("reynolds", "Reynolds number", 4.0, 1e7, kinks=(1500.0, 2600.0, 7e3, 5e4, 4e5)),
    cubic("roughness", "roughness over bore", 2.5e-5, 4e-4),
    tolerance=1e-5,
    relative=True,
    # A large table: half as many bytes hold it well within its tolerance.
    numbers="f4",
    by=(darcy_friction_factor,),
)


def friction(reynolds: Real, bore: Real) -> Real:
    """Return the friction factor in a smooth hose."""
    return DRAG(reynolds, ROUGHNESS / bore) / reynolds


DECAY = tabulated(
    "decay",
    decay,
    cubic("exponent", "exponent", -3.0, 20.0, kinks=(0.0,)),
    tolerance=1e-7,
)
"""An exponential; nothing has fallen yet at exponent 0, to the bit."""
