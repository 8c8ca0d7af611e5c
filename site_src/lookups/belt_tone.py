"""Belt tension by ear: from the tone of a plucked span to its tension, and back.

Products and a root. The tension wanted is the belt page's least tension at rest, worked out as
there, or a figure that is typed. The tone is typed too, or heard by the phone's microphone
(`static/js/pages/belt_tone.js`), which fills in the same field.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from calc import belts as calc
from calc.domain import Real
from calc.tone import HIGHEST, LOWEST
from site_src.lookups import belt, tensioner
from site_src.model.answers import Answer, Band, ChartView, CurveView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Field, Number, Option, Scale
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
    # Least tension for what the belt really weighs.
    worked = belt.LOOKUP.chained(e, mass_per_rib=mass / e["belt_ribs"])["least_tension"]
    wanted = e.pick("wanted_from", {"worked": worked, "entered": e["wanted_tension"]})
    damping = tensioner.damping(e)
    low, high = calc.least_reading(wanted, damping), calc.greatest_reading(wanted, damping)

    def tone(tension: Real) -> Real:
        return calc.span_frequency(tension, e["tone_span"], mass)

    return {
        "mass_by_ribs": by_ribs,
        "mass_weighed": weighed,
        "belt_mass_per_metre": mass,
        "belt_tension": calc.span_tension(e["tone"], e["tone_span"], mass),
        "tension_worked": worked,
        "tension_wanted": wanted,
        "damping": damping,
        "tension_low": low,
        "tension_high": high,
        "tension_near": NEAR_TENSION * wanted,
        "tone_wanted": tone(wanted),
        "tone_low": tone(low),
        "tone_high": tone(high),
    }


_WORKED = ("wanted_from", ("worked",))


def _from_belt(key: str) -> Field:
    """Return a field of the belt's page, asked where the tension is worked out here."""
    field = next(field for field in belt.LOOKUP.fields if field.key == key)
    return replace(field, first=False, when=_WORKED)


FIELDS: tuple[Field, ...] = (
    Number(
        "tone",
        "Tone of the plucked span",
        Scale("frequency", unit="Hz", span=(20, 400), default=63, step=1),
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
        measure="From contact to contact. The longest span between two fixed pulleys reads best: "
        "one at the tensioner swings along.",
        way_out="Under [100 mm|3.9 in] the belt is too stiff to sound like a string.",
        first=True,
    ),
    *(replace(field, first=field.key == "tensioner") for field in tensioner.FIELDS),
    Choice(
        "wanted_from",
        "Tension wanted",
        (
            Option("worked", "Worked out, as on the page “Belt drive”"),
            Option("entered", "The maker's figure"),
        ),
        "worked",
    ),
    Number(
        "wanted_tension",
        "Maker's tension at rest",
        Scale("force", unit="N", span=(20, 6000), default=None, step=10),
        measure="Engine off. Left empty, nothing is judged.",
        way_out="Look at the unit: a belt of this kind rests at some hundred newtons.",
        when=("wanted_from", ("entered",)),
    ),
    *(
        _from_belt(key)
        for key in (
            "drive_power",
            "blower_wrap",
            "crank_wrap",
            "crank_pulley",
            "engine_speed",
            "accessory_power",
        )
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
    replace(belt.LOOKUP.numbers["belt_ribs"], first=False),
    replace(
        belt.LOOKUP.numbers["mass_per_rib"],
        measure="Usual for PK. Common practice, from memory: weigh the belt if you can.",
        way_out="Weigh the belt instead.",
        when=("mass_from", ("ribs",)),
    ),
    Number(
        "belt_mass",
        "Mass of the belt",
        Scale("mass", unit="g", span=(20, 3000), default=350, step=5),
        measure="Kitchen scales, the whole belt or a cut piece.",
        way_out="Weigh a longer piece.",
        when=("mass_from", ("weighed",)),
    ),
    Number(
        "belt_length",
        "Length of what you weighed",
        Scale("run", unit="mm", span=(300, 3000), default=1250, step=10),
        measure="The last figures of the belt's name: 1250 in 14PK1250.",
        way_out="Weigh a longer piece.",
        when=("mass_from", ("weighed",)),
    ),
    Number(
        "mass_per_metre",
        "Mass of the belt by length",
        Scale("mass_per_length", unit="gpm", span=(20, 1000), default=280, step=5),
        sign="m_e",
        way_out="Enter the whole belt's width, not one rib's.",
        when=("mass_from", ("entered",)),
    ),
    *(_from_belt(key) for key in ("power_margin", "grip_friction", "diameter_kind")),
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
            limit="tension_low",
            near="tension_near",
            within="Tension {value}: tight enough. More would only load the bearings.",
            near_words="Tension {value}, about what is wanted. Sprung: turn the engine over by "
            "hand twice and pluck again, its friction hides that much. Locked: it drops as a belt "
            "beds in, so a little tighter.",
            beyond="Tension {value}, {margin} under the least that is sound. Locked: tighten, turn "
            "the engine over by hand twice, pluck again. Sprung: look at the tensioner's marks "
            "and spring.",
        ),
        rank="main",
        note="At rest. Twice the error of the tone, and all of the error of the mass.",
    ),
    Answer(
        "tone_wanted",
        "Tone of the tension wanted",
        of="frequency",
        by=(calc.span_frequency,),
        decimals={"Hz": 1},
        tolerance=0.01,
        uncertainty=4.0,
        rank="second",
        optional=True,
    ),
    Answer(
        "tension_wanted",
        "Tension wanted, at rest",
        of="force",
        by=(calc.resting_tension,),
        decimals={"N": 0, "lbf": 0},
        tolerance=0.1,
        uncertainty=60.0,
        rank="second",
        note="Sprung, the belt tightens itself by m v² as it runs. Locked, that has to be in it.",
        optional=True,
    ),
    Answer(
        "tone_low",
        "Tone of a sound tensioner, from",
        of="frequency",
        by=(calc.least_reading, calc.span_frequency),
        decimals={"Hz": 1},
        tolerance=0.01,
        uncertainty=4.0,
        note="Its friction can hold it that far under. Locked, it is none.",
        optional=True,
    ),
    Answer(
        "tone_high",
        "Tone of a sound tensioner, to",
        of="frequency",
        by=(calc.greatest_reading, calc.span_frequency),
        decimals={"Hz": 1},
        tolerance=0.01,
        uncertainty=4.0,
        optional=True,
    ),
    Answer(
        "belt_mass_per_metre",
        "Mass by length reckoned with",
        of="mass_per_length",
        sign="m",
        decimals={"gpm": 0, "lbft": 3},
        tolerance=1e-6,
        uncertainty=20.0,
    ),
)

_mass = partial(Working, of="mass_per_length", unit="gpm", decimals=0)

WORKINGS = (
    _mass("mass_by_ribs", "Mass by length, of its ribs", sign="m_z"),
    _mass(
        "mass_weighed",
        "Mass by length, as weighed",
        sign="m_w",
        by=(calc.weighed_mass_per_length,),
    ),
    Working(
        "tension_worked",
        "Least tension at rest",
        of="force",
        unit="N",
        decimals=0,
        by=(calc.resting_tension,),
    ),
    Working("damping", "Tensioner's friction over its spring", sign="δ"),
    Working("tension_low", "A sound tensioner may read, from", of="force", unit="N", decimals=0),
    Working("tension_high", "A sound tensioner may read, to", of="force", unit="N", decimals=0),
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
        charts=(
            ChartView(
                "Tension by tone and free length",
                "belt_tension",
                "tone",
                tuple(40.0 + 10.0 * n for n in range(13)),
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
    cautions=(
        "Engine off and key out before a hand goes near the belt: it starts without warning.",
        "A belt maker's tension, or the mark on a spring tensioner, comes before a tone.",
        "Too tight breaks the blower's bearing: hold the pull on it against its maker's limit.",
    ),
    sources=(
        "Tone of a string: f = √(T/m) / 2L, any physics text.",
        f"Mass per rib: {belt.PK.mass_per_rib.source}. From memory.",
        "A tenth over the least tension as near slack: common practice.",
        *(source for source in belt.LOOKUP.sources if "tension" in source.lower()),
    ),
    leaves_out=(
        "Bending stiffness: a short span sounds sharp and reads too tight. Use the longest.",
        "Tension while running: this is the belt at rest.",
        "A span that touches something, or a damped tensioner that swings along.",
        "Hum of the mains at 50 or 60 Hz, which lies near the tone of a sprung belt: lamps and "
        "fans off.",
    ),
)
