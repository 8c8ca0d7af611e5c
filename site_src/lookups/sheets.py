"""What makers' sheets say about a truck: the kinds of figures, and which entries each feeds.

A figure is kept with its job, sheet and page (static/js/record/figures.js). What it says stands
under the key of the entry that it is for, so that it comes first on every page which asks for
that; what no page asks for is kept in the list alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from site_src.lookups import (
    belt,
    belt_route,
    belt_tone,
    boost,
    fuel,
    hose_bend,
    loop,
    torque,
)
from site_src.model.fields import Choice, Field, Number, Option, Scale
from site_src.model.lookup import Lookup

NOT_STATED = Option("not_stated", "Not stated")
"""For what a sheet leaves open; nothing is kept of it."""


@dataclass(frozen=True)
class Text:
    """Something a sheet says that is no number."""

    key: str
    label: str
    most: int = 120
    measure: str = ""


@dataclass(frozen=True)
class Picks:
    """A choice that goes with values: where the sheet gives all of them, this option is taken."""

    choice: str
    option: str
    by: tuple[str, ...]


@dataclass(frozen=True)
class Kind:
    """A kind of figure.

    `feeds` are the entries that it fills wherever they are asked for. A kind with `pages` belongs
    to one part among many: it is entered and used on those pages, for the choices that it was kept
    for. Of a kind of `lines` a sheet has several, and one of them is in use.
    """

    key: str
    title: str
    fields: tuple[Field, ...]
    texts: tuple[Text, ...] = ()
    feeds: tuple[str, ...] = ()
    pages: tuple[str, ...] = ()
    picks: tuple[Picks, ...] = ()
    lines: bool = False
    name: str = ""
    """What it is called by, asked for where there are many alike."""

    def spec(self) -> dict[str, Any]:
        """Return it as plain data."""
        return {
            "key": self.key,
            "title": self.title,
            "choices": [field.key for field in self.fields if isinstance(field, Choice)],
            "values": {f.key: f.of for f in self.fields if isinstance(f, Number)},
            "texts": {text.key: text.label for text in self.texts},
            "feeds": list(self.feeds),
            "pages": list(self.pages),
            "picks": [
                {"choice": each.choice, "option": each.option, "by": list(each.by)}
                for each in self.picks
            ],
            "lines": self.lines,
        }


def _of(page: Lookup, key: str, label: str = "", measure: str | None = None) -> Number:
    """Return a page's entry, left open."""
    field = page.numbers[key]
    return replace(
        field,
        label=label or field.label,
        scale=replace(field.scale, default=None),
        measure=field.measure if measure is None else measure,
        first=True,
        when=None,
        kept=False,
        stands_before="",
        group="",
        example="",
    )


def _stated(page: Lookup, key: str, measure: str = "", label: str = "") -> Choice:
    """Return a page's choice, with the sheet's silence as the usual option."""
    field = page.choices[key]
    options = tuple(option for option in field.options if option.group != "My own")
    return replace(
        field,
        label=label or field.label,
        options=(NOT_STATED, *options),
        default=NOT_STATED.key,
        measure=measure,
        first=True,
        when=None,
        group="",
    )


def _own(key: str, label: str, scale: Scale, measure: str, way_out: str) -> Number:
    """Return an entry that no page asks for."""
    return Number(key, label, scale, measure=measure, way_out=way_out, first=True)


TORQUE = Kind(
    "torque",
    "Torque of a fastener",
    (
        replace(torque.LOOKUP.choices["thread"], measure=""),
        _of(torque.LOOKUP, "maker_torque", "Torque", "As the sheet prints it, in its own unit."),
        _of(torque.LOOKUP, "maker_angle", "Then an angle", "If the sheet gives one."),
        _stated(torque.LOOKUP, "grade", "If the sheet names it, or it is marked on the head."),
        _stated(
            torque.LOOKUP,
            "friction",
            "Oiled, dry, with what paste: what the figure was given for.",
            "Thread and head",
        ),
        _stated(torque.LOOKUP, "joint", "If the sheet says where the figure goes."),
        replace(
            _stated(torque.LOOKUP, "tapped", "", "Tapped in"),
            when=torque.LOOKUP.choices["tapped"].when,
        ),
        Choice(
            "reuse",
            "Used again?",
            (
                Option(NOT_STATED.key, "Yes, or not stated"),
                Option("single use", "Single use"),
                Option("into yield", "Tightened into yield"),
            ),
            NOT_STATED.key,
            first=True,
        ),
    ),
    (Text("sequence", "Order, stages, what else it says", 200),),
    feeds=("maker_torque", "maker_angle"),
    pages=("torque",),
    name="Fastener",
)

HOSE = Kind(
    "hose",
    "Least bend of a hose",
    (
        _of(hose_bend.LOOKUP, "makers_radius"),
        replace(hose_bend.LOOKUP.choices["hose_kind"], measure="", first=True),
        replace(hose_bend.LOOKUP.choices["bore"], measure="", first=True),
    ),
    feeds=("makers_radius",),
    pages=("hose-bend", "hose-run"),
)

ROTOR = Kind(
    "rotor", "Rotor speed limit", (_of(boost.LOOKUP, "rotor_limit"),), feeds=("rotor_limit",)
)

PULLEYS = Kind(
    "pulleys",
    "A pulley and its boost",
    (
        _of(
            boost.LOOKUP,
            "rating_pulley",
            "Blower pulley",
            "One line of the sheet. Keep each pulley as a line of its own.",
        ),
        replace(
            boost.LOOKUP.choices["diameter_kind"],
            key="pulley_kind",
            label="Diameter on the sheet",
            measure="",
            first=True,
        ),
        _of(boost.LOOKUP, "rating_boost", "Boost it makes", "Of “11 to 12” the 11."),
        _of(boost.LOOKUP, "rating_boost_high", "Other end of that boost", "Of “11 to 12” the 12."),
        _of(boost.LOOKUP, "rating_engine_speed", "At this engine speed", "If the sheet gives it."),
    ),
    feeds=("rating_pulley", "rating_boost", "rating_boost_high", "rating_engine_speed"),
    # A line without its engine speed says nothing of how the engine breathes.
    picks=(
        Picks(
            "efficiency_from", "rating", ("rating_pulley", "rating_boost", "rating_engine_speed")
        ),
    ),
    lines=True,
)

BELT = Kind(
    "belt",
    "Belt",
    (
        _of(
            belt_route.LOOKUP,
            "fitted_belt",
            "Length",
            "Effective length, as it is printed on the belt.",
        ),
        _of(belt.LOOKUP, "belt_ribs"),
    ),
    (Text("belt_number", "Part number", 60, "As it is printed on the sheet or the belt's back."),),
    feeds=("fitted_belt", "belt_ribs"),
)

TENSIONER = Kind(
    "tensioner",
    "Tensioner",
    (_of(belt_tone.LOOKUP, "wanted_tension", "Tension of the belt at rest"),),
    (Text("mark", "Where its mark must stand", 200, "Cold, engine off, as the sheet says."),),
    feeds=("wanted_tension",),
    picks=(Picks("wanted_from", "entered", ("wanted_tension",)),),
)

PLUG = Kind(
    "plug",
    "Spark plug and gap",
    (
        _own(
            "plug_gap",
            "Gap",
            Scale("length", unit="mm", span=(0.2, 2), default=None, step=0.05),
            "With a wire gauge.",
            "From 0.2 to 2 mm. Look whether the sheet gives thousandths of an inch.",
        ),
    ),
    (Text("plug", "Plug", 60, "Number and heat range, as the sheet prints them."),),
)

COOLANT = Kind(
    "coolant",
    "Coolant",
    (
        _own(
            "coolant_quantity",
            "In the whole loop",
            Scale("volume", unit="L", span=(0.2, 50), default=None, step=0.1),
            "What goes in from empty.",
            "From 0.2 to 50 L. Look at the unit: a gallon is 3.8 L.",
        ),
        _of(loop.LOOKUP, "tank_content", "In the tank"),
        _of(loop.LOOKUP, "cooler_core_content", "In the charge cooler"),
        _of(loop.LOOKUP, "exchanger_core_content", "In the exchanger"),
        _of(loop.LOOKUP, "glycol_share"),
    ),
    (Text("coolant", "Which coolant", 60),),
    feeds=("tank_content", "cooler_core_content", "exchanger_core_content", "glycol_share"),
)

OIL = Kind(
    "oil",
    "Oil",
    (
        _own(
            "oil_quantity",
            "How much",
            Scale("volume", unit="L", span=(0.02, 30), default=None, step=0.05),
            "Of the blower's own oil, or of the engine's: name which.",
            "From 0.02 to 30 L. Blowers hold little: look whether the sheet gives cc.",
        ),
    ),
    (
        Text("oil", "Which oil", 60, "Name and grade, as the sheet prints them."),
        Text("oil_for", "For what", 60, "Blower or engine, and when it is changed."),
    ),
)

INJECTOR = Kind(
    "injector",
    "Injector",
    (
        _of(fuel.LOOKUP, "injector_flow", "Flow, by volume", "Of one injector."),
        _of(fuel.LOOKUP, "injector_mass", "Flow, by weight", "If the sheet gives it by weight."),
        _of(fuel.LOOKUP, "rated_pressure", "At this pressure"),
        _of(fuel.LOOKUP, "dead_time"),
    ),
    (Text("injector", "Part number", 60),),
    feeds=("injector_flow", "injector_mass", "rated_pressure", "dead_time"),
    picks=(
        Picks("injector_rated", "volume", ("injector_flow",)),
        Picks("injector_rated", "mass", ("injector_mass",)),
    ),
)

KINDS = (
    TORQUE,
    ROTOR,
    PULLEYS,
    BELT,
    TENSIONER,
    PLUG,
    COOLANT,
    OIL,
    INJECTOR,
    HOSE,
)
"""In the order of the list: the most asked for first."""


@cache
def kind_field() -> Choice:
    """Return the choice of what a figure is for."""
    options = tuple(Option(kind.key, kind.title) for kind in KINDS)
    return Choice("kind", "What is it for?", options, TORQUE.key, first=True)


@cache
def fields() -> tuple[Field, ...]:
    """Return every entry of a figure, each shown with its kind."""
    found: list[Field] = [kind_field()]
    for kind in KINDS:
        for field in kind.fields:
            # One with a condition of its own hangs on an entry of the same kind.
            found.append(field if field.when else replace(field, when=("kind", (kind.key,))))
    return tuple(found)


def texts() -> Sequence[tuple[Kind, Text]]:
    """Return every text of a figure with the kind that it belongs to."""
    return [(kind, text) for kind in KINDS for text in kind.texts]


def spec() -> list[dict[str, Any]]:
    """Return the kinds as plain data."""
    return [kind.spec() for kind in KINDS]
