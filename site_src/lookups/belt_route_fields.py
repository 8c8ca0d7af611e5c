"""Belt route: what is measured with a tape, and how."""

from __future__ import annotations

from dataclasses import replace

from site_src.data.belts import length_series
from site_src.lookups import boost_fields
from site_src.lookups.belt_route_geometry import PLACES
from site_src.model.fields import Choice, Field, Number, Option, Scale, When

NONE = "none"

KINDS = (
    Option("blower", "Blower"),
    Option("tensioner", "Tensioner"),
    Option("idler", "Idler"),
    Option("alternator", "Alternator"),
    Option("water_pump", "Water pump"),
    Option("steering", "Steering pump"),
    Option("air_con", "Air conditioning"),
    Option("other", "Something else"),
    Option(NONE, "No pulley here"),
)
"""What a pulley may be."""

_USUAL = (
    ("idler", -140, 140, 76, "ribs"),
    ("alternator", -178, 262, 58, "ribs"),
    ("tensioner", -92, 325, 76, "back"),
    ("blower", 0, 430, 90, "ribs"),
    ("idler", 86, 310, 76, "back"),
    ("water_pump", 135, 190, 120, "ribs"),
    (NONE, 250, 300, 76, "back"),
    (NONE, 250, 100, 76, "ribs"),
    (NONE, 200, -100, 76, "ribs"),
)
"""A route of our own invention, from the second place on; the last three are spare."""

REACH = 1500
"""How far from the datum a pulley's centre may be, mm."""

_RIGHT = "Facing the engine from in front: to your right of the datum. To the left: minus."
_UP = "Up from the datum. Below it: minus."
_WAY_OUT = f"Measure from one datum for all pulleys; {REACH} mm each way at most."


def _centre(
    key: str, label: str, usual: float, measure: str, group: str, when: When = None
) -> Number:
    """Return the entry of one coordinate."""
    return Number(
        key,
        label,
        Scale("length", unit="mm", span=(-REACH, REACH), default=usual, step=1),
        measure=measure,
        way_out=_WAY_OUT,
        when=when,
        group=group,
    )


def _place(number: int) -> tuple[Field, ...]:
    """Return the entries of one place in the list."""
    kind, x, y, diameter, side = _USUAL[number - 2]
    group = f"Pulley {number}"
    taken = tuple(option.key for option in KINDS if option.key != NONE)
    there: When = (f"kind_{number}", taken)
    own: When = (f"kind_{number}", tuple(key for key in taken if key != "blower"))
    return (
        Choice(
            f"kind_{number}",
            f"{number} is",
            KINDS,
            kind,
            measure="The belt goes from each pulley to the next in the list, and from the last to "
            "the crank.",
            group=group,
        ),
        _centre(f"x_{number}", f"{number}, to the right", x, _RIGHT, group, there),
        _centre(f"y_{number}", f"{number}, up", y, _UP, group, there),
        Number(
            f"d_{number}",
            f"{number}, diameter",
            Scale("length", unit="mm", span=(20, 400), default=diameter, step=1),
            measure="Ribs on it: as the crank pulley was measured. Back on it: over the smooth "
            "face, not its rims.",
            way_out="Enter the diameter, not the radius, and look at the unit.",
            when=own,
            group=group,
        ),
        Choice(
            f"side_{number}",
            f"{number} touches the belt's",
            (Option("ribs", "Ribs: inside"), Option("back", "Back: outside")),
            side,
            measure="Ribs: it turns as the crank does. Back: it turns the other way.",
            when=there,
            group=group,
        ),
    )


_MOVES: When = ("tensioner_way", ("slot", "arm"))
_ARM: When = ("tensioner_way", ("arm",))
_TENSIONER = "How the tensioner moves"


def _stop(key: str, label: str, usual: float, measure: str, when: When) -> Number:
    """Return the entry of one coordinate of the tensioner's travel."""
    return _centre(key, label, usual, measure, _TENSIONER, when)


_TRAVEL: tuple[Field, ...] = (
    Choice(
        "tensioner_way",
        "The tensioner's pulley moves",
        (
            Option("slot", "Along a slot"),
            Option("arm", "On a swinging arm"),
            Option("none", "Not measured"),
        ),
        "slot",
        measure="Belt off, engine off, key out. Move it to each stop and measure where the "
        "pulley's centre is. A sprung arm bites: hold it with the right tool.",
        group=_TENSIONER,
    ),
    _stop("slack_x", "Slack stop, right", -112, "Where the belt goes on most easily.", _MOVES),
    _stop("slack_y", "Slack stop, up", 331, _UP, _MOVES),
    _stop(
        "tight_x", "Tight stop, right", -74, "The other end, where the belt is tightest.", _MOVES
    ),
    _stop("tight_y", "Tight stop, up", 319, _UP, _MOVES),
    _stop("pivot_x", "Pivot, right", -75, "The bolt that the arm swings on.", _ARM),
    _stop("pivot_y", "Pivot, up", 382, _UP, _ARM),
)

FIELDS: tuple[Field, ...] = (
    *(
        replace(field, first=True)
        for field in boost_fields.FIELDS
        if field.key in ("blower_pulley", "crank_pulley")
    ),
    Number(
        "fitted_belt",
        "Belt you have or were offered",
        Scale(
            "length",
            unit="mm",
            span=(400, 6000),
            default=None,
            step=5,
            stock=tuple(round(1e3 * length, 6) for length in length_series().lengths),
        ),
        measure="Effective length, the last figures of a ribbed belt's name: 1570 in 8PK1570. The "
        f"lengths that + and − step through: {length_series().step.origin}",
        way_out="Effective length in mm, or its unit after it.",
        first=True,
    ),
    Choice(
        "travel",
        "The crank turns",
        (Option("clockwise", "Clockwise"), Option("counter", "Counter-clockwise")),
        "clockwise",
        measure="As you see it from in front. List the pulleys in the order in which one spot of "
        "the belt meets them.",
        first=True,
    ),
    _centre("x_1", "Crank, to the right", 0, _RIGHT, "Pulley 1, the crank"),
    _centre("y_1", "Crank, up", 0, _UP, "Pulley 1, the crank"),
    *(field for number in range(2, PLACES + 1) for field in _place(number)),
    *_TRAVEL,
    *(
        replace(field, group="Readings and limits")
        for field in boost_fields.FIELDS
        if field.key == "diameter_kind"
    ),
    Number(
        "clearance",
        "Room to keep beside every run",
        Scale("length", unit="mm", span=(0, 50), default=10, step=1),
        measure="From the cord of the belt. The belt is some [5 mm|0.2 in] thick, and it flaps.",
        way_out="Enter [a few millimetres|a fraction of an inch].",
        example="Enter the room that you want beside every run.",
        group="Readings and limits",
    ),
    Number(
        "least_run",
        "Shortest run to accept",
        Scale("length", unit="mm", span=(0, 300), default=40, step=5),
        measure="A short run leaves no length for a pulley out of plane to be steered over. The "
        "belt maker's figure.",
        way_out="Enter [some tens of millimetres|an inch or more].",
        example="Enter the shortest run that you accept.",
        group="Readings and limits",
    ),
    *(
        Number(
            key,
            label,
            boost_fields.OTHER_PULLEY,
            measure="Beside the first one, in “Blower pulleys side by side”.",
            way_out="Measured the same way as the first.",
            group="Blower pulleys to compare",
            shelf=boost_fields.SHELF,
        )
        for key, label in (
            ("pulley_b", "Second blower pulley"),
            ("pulley_c", "Third blower pulley"),
        )
    ),
)
