"""Belt tension by ear: from the tone of a plucked span to its tension, and back.

Products and a root, so there is no table. The tone is typed in, or heard by the phone's
microphone (`static/js/microphone.js`), which fills in the same field.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from calc import belts as calc
from calc.domain import Real
from calc.tone import HIGHEST, LOWEST
from site_src.lookups import belt
from site_src.model.answers import Answer, Band, CurveView, GridView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Number, Option, Scale
from site_src.model.lookup import Lookup

NEAR_TENSION = 1.1
"""Tension over the least under which a belt is called near slack. Common practice."""


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out the tension from the tone, and the tone that a wanted tension gives."""
    by_ribs = e["belt_ribs"] * e["mass_per_rib"]
    weighed = calc.weighed_mass_per_length(e["belt_mass"], e["belt_length"])
    mass = e.pick(
        "mass_from", {"ribs": by_ribs, "weighed": weighed, "entered": e["mass_per_metre"]}
    )
    return {
        "mass_by_ribs": by_ribs,
        "mass_weighed": weighed,
        "belt_mass_per_metre": mass,
        "belt_tension": calc.span_tension(e["tone"], e["tone_span"], mass),
        "tone_wanted": calc.span_frequency(e["wanted_tension"], e["tone_span"], mass),
        "tension_near": NEAR_TENSION * e["wanted_tension"],
    }


FIELDS = (
    Number(
        "tone",
        "Tone of the plucked span",
        Scale("frequency", unit="Hz", span=(20, 400), default=120, step=1),
        sign="f",
        measure=f"Listen with the phone, {LOWEST:g} to {HIGHEST:g} Hz, or type a tuner's figure.",
        way_out="Pluck a longer span for a lower tone, a shorter one for a higher.",
        first=True,
    ),
    Number(
        "tone_span",
        "Free length of that span",
        Scale("length", unit="mm", span=(100, 1500), default=310, step=5),
        sign="L",
        measure="From contact to contact. The longest span reads best.",
        way_out="Under 100 mm the belt is too stiff to sound like a string.",
        first=True,
    ),
    Number(
        "wanted_tension",
        "Tension wanted",
        Scale("force", unit="N", span=(20, 6000), default=975, step=10),
        sign="T_w",
        measure="The maker's figure, else the least tension of the page “Belt drive”.",
        way_out="Take it from the page “Belt drive”.",
        first=True,
    ),
    Choice(
        "mass_from",
        "Mass of the belt",
        (
            Option("ribs", "Usual, by ribs"),
            Option("weighed", "I weighed it"),
            Option("entered", "Maker's figure"),
        ),
        "ribs",
        measure="Weighing is best: a tenth more mass is a tenth more tension.",
    ),
    replace(belt.LOOKUP.numbers["belt_ribs"], first=False, when=("mass_from", ("ribs",))),
    replace(
        belt.LOOKUP.numbers["mass_per_rib"],
        measure="Usual for PK. Common practice, from memory: weigh the belt if you can.",
        way_out="Weigh the belt instead.",
        when=("mass_from", ("ribs",)),
    ),
    Number(
        "belt_mass",
        "Mass of the belt",
        Scale("mass", unit="g", span=(20, 3000), default=250, step=5),
        measure="Kitchen scales, the whole belt or a cut piece.",
        way_out="Weigh a longer piece.",
        when=("mass_from", ("weighed",)),
    ),
    Number(
        "belt_length",
        "Length of what you weighed",
        Scale("run", unit="mm", span=(300, 3000), default=1250, step=10),
        measure="The last figures of the belt's name: 1250 in 10PK1250.",
        way_out="Weigh a longer piece.",
        when=("mass_from", ("weighed",)),
    ),
    Number(
        "mass_per_metre",
        "Mass of a metre of belt",
        Scale("mass_per_length", unit="gpm", span=(20, 1000), default=200, step=5),
        sign="m_e",
        way_out="Enter the whole belt's width, not one rib's.",
        when=("mass_from", ("entered",)),
    ),
)

ANSWERS = (
    Answer(
        "belt_tension",
        "Tension",
        of="force",
        by=(calc.span_tension,),
        decimals={"N": 0, "lbf": 0},
        tolerance=1e-4,
        uncertainty=80.0,
        band=Band(
            side="min",
            limit="wanted_tension",
            near="tension_near",
            within="Tension {value}, {margin} over what is wanted.",
            near_words="Tension {value}, {margin} over what is wanted: it drops as a belt beds in.",
            beyond="Tension {value}, {margin} under what is wanted: tighten, turn the engine over "
            "by hand twice, pluck again.",
        ),
        rank="main",
        note="Twice the error of the tone, and all of the error of the mass.",
    ),
    Answer(
        "tone_wanted",
        "Tone of the tension wanted",
        of="frequency",
        by=(calc.span_frequency,),
        decimals={"Hz": 1},
        tolerance=1e-6,
        uncertainty=4.0,
        rank="second",
        optional=True,
    ),
    Answer(
        "belt_mass_per_metre",
        "Mass of a metre reckoned with",
        of="mass_per_length",
        sign="m",
        decimals={"gpm": 0, "lbft": 3},
        tolerance=1e-6,
        uncertainty=20.0,
        rank="second",
    ),
)

_mass = partial(Working, of="mass_per_length", unit="gpm", decimals=0)

WORKINGS = (
    _mass("mass_by_ribs", "Mass of a metre by its ribs", sign="m_z"),
    _mass(
        "mass_weighed",
        "Mass of a metre as weighed",
        sign="m_w",
        by=(calc.weighed_mass_per_length,),
    ),
)

LOOKUP = Lookup(
    key="belt-tone",
    title="Belt tension by ear",
    short="Tone",
    question="How tight is this belt, from the tone it gives when plucked?",
    stage="drive",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
    views=Views(
        grids=(
            GridView(
                "Tension by tone and free length",
                "belt_tension",
                "tone",
                tuple(60.0 + 10.0 * n for n in range(13)),
                "tone_span",
                (200.0, 250.0, 300.0, 350.0, 400.0),
            ),
        ),
        curves=(
            CurveView(
                "Tension against tone",
                "belt_tension",
                "tone",
                tuple(40.0 + 10.0 * n for n in range(17)),
            ),
        ),
    ),
    needs=("microphone",),
    cautions=(
        "Engine off and key out before a hand goes near the belt: it starts without warning.",
        "A belt maker's tension, or the mark on a spring tensioner, comes before a tone.",
        "Too tight breaks the blower's bearing: hold the pull on it against its maker's limit.",
    ),
    sources=(
        "Tone of a string: f = √(T/m) / 2L, any physics text.",
        f"Mass per rib: {belt.PK.mass_per_rib.source}. From memory.",
        "A tenth over the least tension as near slack: common practice.",
    ),
    leaves_out=(
        "Bending stiffness: a short span sounds sharp and reads too tight. Use the longest.",
        "Tension while running: this is the belt at rest.",
        "A span that touches something, or a damped tensioner that swings along.",
    ),
)
