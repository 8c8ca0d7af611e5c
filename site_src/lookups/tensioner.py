"""How a belt is tensioned: what the pages on its grip and on its tone both ask about it.

A sprung tensioner keeps what presses the belt on the pulleys, locked centres keep the belt's
stretch. Between the two lies the tensioner constant of Beikmann, Perkins and Ulsoy.
"""

from __future__ import annotations

from calc.domain import Real
from site_src.data.belts import tensioner_figures
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Field, Number, Option, Scale

DAMPING = tensioner_figures().damping

_SPRUNG = ("spring", "between")

FIELDS: tuple[Field, ...] = (
    Choice(
        "tensioner",
        "Tensioner",
        (
            Option("spring", "Sprung, on the slack side"),
            Option("locked", "None: set by hand and locked"),
            Option("between", "Sprung, its tensioner constant known"),
        ),
        "spring",
        measure="Sprung, the belt pulls itself tighter as it speeds up. Locked, it loses that grip "
        "and must be set tighter. The slack side is the run that leaves the crank pulley.",
    ),
    Number(
        "tensioner_constant",
        "Tensioner constant",
        Scale("ratio", unit="", span=(0, 1), default=None, step=0.05),
        sign="η",
        measure="From its maker: 0 as if locked, 1 for an ideal spring. Belt stiffness ÷ (belt "
        "stiffness + tensioner stiffness), each per length of belt taken up.",
        way_out="If it is not known, pick the sprung tensioner.",
        when=("tensioner", ("between",)),
    ),
    Number(
        "tensioner_damping",
        "Friction in the tensioner, ±",
        Scale("percent", unit="pct", span=(0, 50), default=100 * DAMPING.value, step=5),
        sign="δ",
        measure=DAMPING.origin,
        way_out="A tensioner that sticks more than this is worn: replace it.",
        when=("tensioner", _SPRUNG),
    ),
)


def constant(e: Entries) -> Real:
    """Return the tensioner constant, 0 for locked centres to 1 for a sprung tensioner."""
    return e.pick("tensioner", {"spring": 1.0, "locked": 0.0, "between": e["tensioner_constant"]})


def damping(e: Entries) -> Real:
    """Return friction over the spring's force; none where there is no spring."""
    friction = e["tensioner_damping"]
    return e.pick("tensioner", {"spring": friction, "locked": 0.0, "between": friction})
