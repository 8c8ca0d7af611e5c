"""Knock as a flag: how hard compression and boost squeeze the charge, for the fuel in the tank.

The flag says when a set-up is for the calibrator before it is for the road. It is no forecast of
knock and gives no spark figure. Curved are effective compression by end pressure and the end of
compression; all else is arithmetic.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from calc import power as calc
from calc.domain import Real
from site_src.lookups import air, power
from site_src.model.answers import Answer, Band, ChartView, Views, Working
from site_src.model.entries import Entries
from site_src.model.fields import Choice, Number, Option, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic, linear
from site_src.tables.trace import tabulated, within

COMPRESSION_EXPONENT = 1.3
"""Polytropic exponent of compression with fuel in the charge. Heywood, ch. 9: 1.3 ± 0.05."""

NEARLY_AS_HOT = 10.0
"""How far below the trusted set-up's end of compression a charge is near it, K."""

HAIR = 1e-5
"""Ten times what the table of the outside air can be off by, as a share of its pressure."""

_ALREADY = (
    "Without any boost this compression is past the line for this fuel and charge temperature: "
    "more octane, a cooler charge or less compression first."
)


# --- tables ----------------------------------------------------------------------------------


def _end_temperature(charge_temperature: Real, compression_ratio: Real) -> Real:
    """End of compression at our one exponent."""
    return calc.end_of_compression_temperature(
        charge_temperature, compression_ratio, COMPRESSION_EXPONENT
    )


BY_END_PRESSURE = tabulated(
    "effective_compression",
    calc.effective_compression_ratio,
    linear("compression_ratio", "compression ratio", 5.0, 15.0),
    cubic("pressure_ratio", "manifold over outside pressure", 1.0, 5.0),
    tolerance=1e-4,
    numbers="f4",
)
END_OF_COMPRESSION = tabulated(
    "end_of_compression",
    _end_temperature,
    linear("charge_temperature", "charge temperature", 250.0, 450.0),
    cubic("compression_ratio", "compression ratio", 5.0, 15.0),
    tolerance=1e-3,
    numbers="f4",
    by=(calc.end_of_compression_temperature,),
)


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out what the cylinder makes of the charge, and where the line is for this fuel."""
    ambient = air.ambient(e)
    ratio = (ambient + e["boost"]) / ambient
    charge, compression = e["charge_temperature"], e["compression_ratio"]
    octane = e.pick(
        "octane_scale",
        {"ron": e["octane"], "aki": calc.research_octane_number(e["octane"])},
    )
    line = calc.knock_line(octane, charge)
    known = END_OF_COMPRESSION(e["known_charge_temperature"], e["known_compression_ratio"])
    room = within(line / compression - 1.0, 0.0, None, below=_ALREADY, hair=HAIR)
    return {
        "ambient": ambient,
        "pressure_ratio": ratio,
        "squeeze": calc.pressure_compression_product(compression, ratio),
        "effective_compression": BY_END_PRESSURE(compression, ratio),
        "research_octane": octane,
        "line": line,
        "line_near": line - calc.KNOCK_NEAR,
        "boost_at_line": room * ambient,
        "end_temperature": END_OF_COMPRESSION(charge, compression),
        "known_end_temperature": known,
        "known_end_near": known - NEARLY_AS_HOT,
    }


# --- the page --------------------------------------------------------------------------------

FIELDS = (
    Number(
        "compression_ratio",
        "Compression ratio",
        Scale("ratio", unit="", span=(6, 14), default=None, step=0.1),
        sign="r",
        measure="From the engine's data, or from chamber, piston and gasket; not from a cranking "
        "pressure. Nothing is assumed here.",
        way_out="Enter swept and chamber volume over chamber volume.",
        first=True,
    ),
    replace(power.LOOKUP.numbers["boost"], first=True),
    Choice(
        "octane_scale",
        "Octane, which number",
        (
            Option("ron", "RON, as pumps show it in Europe"),
            Option("aki", "AKI, (R+M)/2, as pumps show it in North America"),
        ),
        "ron",
        measure="The same gasoline shows 4 to 5 more in RON than in AKI.",
        first=True,
    ),
    Number(
        "octane",
        "Octane of the fuel in the tank",
        Scale("ratio", unit="", span=(80, 120), default=None, step=1),
        measure="On the pump. Take the worst fuel that the truck will ever be given.",
        way_out="Pump gasoline is 91 to 100 RON, that is 87 to 94 AKI.",
        first=True,
    ),
    replace(power.LOOKUP.numbers["charge_temperature"], first=True),
    *air.PRESSURE_FIELDS,
    Number(
        "known_compression_ratio",
        "Compression ratio of a set-up you trust",
        Scale("ratio", unit="", span=(6, 14), default=None, step=0.1),
        measure="One that ran without knock on the same fuel, to compare with.",
        way_out="Enter swept and chamber volume over chamber volume.",
    ),
    Number(
        "known_charge_temperature",
        "Charge temperature of that set-up",
        Scale("temperature", unit="C", span=(-10, 150), default=None, step=5),
        measure="In its manifold, at full load.",
        way_out="Leave both empty if there is no such set-up.",
    ),
)

_COMPRESSION = Answer(
    "squeeze",
    "Effective compression, r·PR",
    decimals={"": 1},
    tolerance=1e-3,
    uncertainty=0.3,
    rank="main",
    optional=True,
    sign="r·PR",
    note="As the trade's charts have it: compression ratio times manifold over outside pressure.",
    by=(calc.pressure_compression_product,),
    band=Band(
        side="max",
        limit="line",
        near="line_near",
        within="r·PR {value}, {margin} under the line of {limit} for this fuel and charge. The "
        "calibrator still decides.",
        near_words="r·PR {value}, only {margin} under the line of {limit} for this fuel and "
        "charge: for the calibrator before a full-load run.",
        beyond="r·PR {value}, {margin} over the line of {limit} for this fuel and charge: for the "
        "calibrator. More octane, a cooler charge, less boost or less compression.",
    ),
)

_END = Answer(
    "end_temperature",
    "Charge at the end of compression",
    of="temperature",
    decimals={"C": 0, "F": 0},
    tolerance=0.05,
    uncertainty=30.0,
    optional=True,
)

ANSWERS = (
    _COMPRESSION,
    Answer(
        "effective_compression",
        "Effective compression, r·PR^(1/γ)",
        decimals={"": 1},
        tolerance=0.001,
        uncertainty=0.3,
        rank="second",
        optional=True,
        note="The unblown ratio with the same end pressure. Don't look it up in a chart that was "
        "made for r·PR: it reads two or three points lower.",
    ),
    Answer(
        "line",
        "Line for this fuel and charge, r·PR",
        decimals={"": 1},
        tolerance=1e-3,
        uncertainty=1.5,
        rank="second",
        optional=True,
        note="16 at 95 RON and [50 °C|122 °F], 0.35 more for each octane number, [0.05|0.028] less "
        "for each degree. "
        "Common practice for charge-cooled engines; a flag and no limit of any maker.",
        by=(calc.knock_line,),
    ),
    Answer(
        "boost_at_line",
        "Boost at which the line is reached",
        of="gauge_pressure",
        decimals={"kPa": 0, "psi": 1, "bar": 2},
        tolerance=0.05,
        uncertainty=15.0,
        rank="second",
        optional=True,
        note="At the charge temperature entered: more boost makes a hotter charge.",
    ),
    replace(
        _END,
        band=Band(
            side="max",
            limit="known_end_temperature",
            near="known_end_near",
            within="{value} at the end of compression, {margin} cooler than the set-up you trust.",
            near_words="{value} at the end of compression, only {margin} cooler than the set-up "
            "you trust.",
            beyond="{value} at the end of compression, {margin} hotter than the set-up you trust: "
            "a cooler charge, less compression or more octane, and a calibrator before boost.",
        ),
        note="No burning, no residual gas: to compare set-ups, not to predict knock.",
    ),
    replace(_END, key="known_end_temperature", label="The same in the set-up you trust"),
)

LOOKUP = Lookup(
    key="knock",
    title="Knock flag",
    short="Knock",
    question="Does this fuel stand that compression and boost, or is it for the calibrator first?",
    stage="plan",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=(
        Working("ambient", "Outside air", of="absolute_pressure", unit="kPa", decimals=1),
        Working("pressure_ratio", "Manifold over outside air", decimals=3, sign="PR"),
        Working("research_octane", "Octane as RON", decimals=1, by=(calc.research_octane_number,)),
    ),
    views=Views(
        charts=(
            ChartView(
                "r·PR by compression ratio and boost",
                "squeeze",
                "compression_ratio",
                (8.0, 8.5, 9.0, 9.5, 10.0, 10.5, 11.0, 12.0),
                "boost",
                (0.0, 20.0, 40.0, 60.0, 80.0, 100.0, 120.0),
            ),
            ChartView(
                "Squeeze by compression ratio",
                "effective_compression",
                "compression_ratio",
                (8.0, 8.5, 9.0, 9.5, 10.0, 10.5, 11.0, 12.0),
                also=("end_temperature",),
            ),
        ),
    ),
    cautions=(
        "No spark advice here: timing belongs to the calibrator, on a dyno, with knock sensors "
        "connected and listening.",
        "More boost, more compression or a hotter charge asks for more octane. Knock breaks "
        "pistons in seconds: run the fuel that the calibration was made for, and lift at the "
        "first sound of it.",
        "A kit whose maker calibrates it for this engine and this fuel overrules this page; the "
        "wrong fuel in that kit does not.",
    ),
    sources=(
        "Effective compression r·PR: common practice. r·PR^(1/γ): isentropic, γ = 1.4.",
        "Line at 95 RON and [50 °C|122 °F]: common practice. Slopes by octane, compression and "
        "charge "
        "temperature: Russ, A review of the effect of engine operating conditions on borderline "
        "knock, SAE 960497 (1996), its summary.",
        "AKI is the mean of RON and MON, 8 to 10 apart in pump gasoline: common practice.",
        "End of compression: Heywood, ch. 9, n = 1.3. Outside air from altitude: ISO 2533.",
    ),
    leaves_out=(
        "Chamber, plug, mixture, coolant, exhaust back pressure and spark: each moves knock by "
        "several octane numbers.",
        "Fuel that cools the charge as it evaporates: alcohols and direct injection stand more "
        "than their octane says.",
        "Iron heads and engines without charge cooling stand less.",
        "On a hill the cylinder starts from thinner air than PR says: the flag is careful there.",
    ),
)
