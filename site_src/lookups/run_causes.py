"""Which cause explains a run: each fitted alone, and two together, to all readings at once.

It has no page of its own: `pages/first_runs.py` puts the columns of `reading.py` in for each
reading and says in words what comes back. All is arithmetic over the list of readings.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial, reduce
from itertools import combinations

import numpy as np

from calc import first_runs as calc
from calc.domain import Real
from site_src.lookups import reading
from site_src.model.answers import Answer, Working
from site_src.model.entries import Entries
from site_src.model.fields import Number, Parts, Scale
from site_src.model.lookup import Lookup
from site_src.tables.compiler import cubic
from site_src.tables.trace import Refusal, choose, greatest, least, tabulated

MOST_READINGS = 12

REST_UNSURE = 500.0
"""What a boost gauge at rest is good for, Pa. Common practice."""

ONE_KPA = reading.ONE_KPA

SEEN = 1e-6
"""Least square of a signature that counts as one."""

ALIKE = 1e-6
"""Least share of two signatures that is not common to both, for them to be fitted together."""

FITS, HARDLY = 2.0, 4.0
"""Misfit for each reading up to which a cause fits, and over which it doesn't. Common practice."""

FEWEST = 4.0
"""Readings under which nothing is said. Common practice."""

NOTHING, SURE, LIKELY, UNTOLD, SEVERAL, UNKNOWN, TOO_FEW = (float(n) for n in range(7))
"""What a run says: the verdicts, by number."""


@dataclass(frozen=True)
class Cause:
    """One cause: its signature's column by gauge, and whether its size may be below nought."""

    key: str
    columns: Mapping[str, str]
    either_way: bool = False


CAUSES = (
    Cause("slip", {"air": "slip", "speed": "slip"}),
    Cause("leak", {"air": "leak"}),
    Cause("bypass", dict.fromkeys(("air", "charge", "outlet", "depression"), "bypass")),
    Cause("inlet", {"air": "inlet", "depression": "inlet"}),
    Cause("cooler", {"charge": "cooler"}),
    Cause("pulley", {"air": "ratio", "speed": "ratio"}, either_way=True),
    Cause("breathing", {"air": "ratio"}, either_way=True),
    Cause("gauge", {"air": "gauge"}, either_way=True),
)
"""In this order a page lists those that fit alike."""

PAIRS = tuple((a.key, b.key) for a, b in combinations(CAUSES, 2))
"""Every two causes, by their keys, in the order in which they are told by number."""

LOG = tabulated(
    "log_of_readings",
    np.log,
    cubic("count", "number of readings", 1.0, 5.0 * MOST_READINGS + 1.0),
    tolerance=1e-6,
    monotone=True,
)


# --- the calculation -------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Fit every cause alone and every two together, and say what that comes to."""
    sums = _sums(e)
    misfit, cross, square = _alone(e, sums)
    logged = LOG(greatest(sums["count"], 1.0))
    taken = {cause.key: _taken(cause, cross, square) for cause in CAUSES}
    judged = {
        key: calc.criterion(greatest(misfit - gain, 0.0), logged, 1.0)
        for key, gain in taken.items()
    }
    best = least(*judged.values())
    behind = {key: value - best for key, value in judged.items()}
    pairs = _pairs(sums, cross, square, taken)
    most = greatest(*pairs.values())
    two = calc.criterion(greatest(misfit - most, 0.0), logged, 2.0)
    left = greatest(misfit - greatest(*taken.values()), 0.0) / greatest(sums["count"] - 1.0, 1.0)
    lead, pair_lead = calc.criterion(misfit, logged, 0.0) - best, best - two
    found = {
        "count": sums["count"],
        "misfit": misfit,
        "misfit_each": misfit / greatest(sums["count"] - 1.0, 1.0),
        "misfit_left": left,
        "lead": lead,
        "pair_lead": pair_lead,
        "alike": _how_many(behind, calc.STRONG),
        "near": _how_many(behind, calc.VERY_STRONG),
    }
    return {
        **sums,
        **{f"{key}_cross": value for key, value in cross.items()},
        **{f"{key}_square": value for key, value in square.items()},
        **{f"{key}_taken": value for key, value in taken.items()},
        **{f"{key}_judged": value for key, value in judged.items()},
        **{f"{a}_{b}_taken": value for (a, b), value in pairs.items()},
        "best": best,
        "two": two,
        "most": most,
        **found,
        "verdict": _verdict(found),
        "first": _place([behind[cause.key] for cause in CAUSES]),
        "pair": _place([most - gain for gain in pairs.values()]),
        **{f"{key}_behind": value for key, value in behind.items()},
        **_sizes(cross, square),
    }


def _sums(e: Entries) -> dict[str, Real]:
    """Return the sums of products of every two columns of a gauge, and how many were read."""
    sums: dict[str, Real] = {}
    for gauge, columns in reading.COLUMNS.items():
        for a, b in _every_two(columns):
            product = partial(_product, f"{gauge}_off", f"{gauge}_{a}", f"{gauge}_{b}")
            sums[f"{gauge}_{a}_{b}"] = e.total("run_rows", product)
    counts = [e.total("run_rows", partial(_one, f"{gauge}_off")) for gauge in reading.COLUMNS]
    sums["count"] = sum(counts, e.if_entered("run_rest", 1.0, 0.0))
    return sums


def _every_two(columns: tuple[str, ...]) -> list[tuple[str, str]]:
    """Return every two of some columns, each with itself too."""
    return [(a, b) for n, a in enumerate(columns) for b in columns[n:]]


def _product(there: str, a: str, b: str, row: Entries) -> Real:
    """Return the product of two columns in one row, nothing where the gauge wasn't read."""
    return row.if_entered(there, row[a] * row[b], 0.0)


def _one(there: str, row: Entries) -> Real:
    """Return 1 where a gauge was read."""
    return row.if_entered(there, 1.0, 0.0)


def _inner(sums: Mapping[str, Real], gauge: str, a: str, b: str) -> Real:
    """Return the inner product of two columns of a gauge, its shared error allowed for."""

    def of(one: str, other: str) -> Real:
        key = f"{gauge}_{one}_{other}"
        return sums[key] if key in sums else sums[f"{gauge}_{other}_{one}"]

    return calc.shared(of(a, b), of(a, "shared"), of(b, "shared"), of("shared", "shared"))


def _alone(e: Entries, sums: Mapping[str, Real]) -> tuple[Real, dict[str, Real], dict[str, Real]]:
    """Return the misfit without a cause, and each signature with the readings and with itself."""
    rest = e.if_entered("run_rest", e["run_rest"] / REST_UNSURE, 0.0)
    at_rest = e.if_entered("run_rest", ONE_KPA / REST_UNSURE, 0.0)
    misfit = _sum([_inner(sums, gauge, "off", "off") for gauge in reading.COLUMNS]) + rest * rest
    cross, square = {}, {}
    for cause in CAUSES:
        columns = cause.columns.items()
        cross[cause.key] = _sum([_inner(sums, gauge, c, "off") for gauge, c in columns])
        square[cause.key] = _sum([_inner(sums, gauge, c, c) for gauge, c in columns])
    cross["gauge"] = cross["gauge"] + rest * at_rest
    square["gauge"] = square["gauge"] + at_rest * at_rest
    return greatest(misfit, 0.0), cross, square


def _sum(values: list[Real]) -> Real:
    """Return the sum of some values."""
    return reduce(lambda a, b: a + b, values)


def _taken(cause: Cause, cross: Mapping[str, Real], square: Mapping[str, Real]) -> Real:
    """Return how much of the misfit a cause takes away; none with a size that can't be."""
    a, b = cross[cause.key], square[cause.key]
    gain = choose(SEEN, b, calc.explained(a, b), 0.0)
    return gain if cause.either_way else choose(0.0, a, gain, 0.0)


def _pairs(
    sums: Mapping[str, Real],
    cross: Mapping[str, Real],
    square: Mapping[str, Real],
    taken: Mapping[str, Real],
) -> dict[tuple[str, str], Real]:
    """Return how much of the misfit every two causes take away together."""
    found = {}
    for one, other in combinations(CAUSES, 2):
        a, b = one.key, other.key
        common = one.columns.keys() & other.columns.keys()
        gauges = [gauge for gauge in reading.COLUMNS if gauge in common]
        between = _sum(
            [_inner(sums, gauge, one.columns[gauge], other.columns[gauge]) for gauge in gauges]
            or [0.0]
        )
        whole = square[a] * square[b]
        both = calc.explained_by_two(cross[a], cross[b], square[a], square[b], between)
        apart = whole - between * between
        gain = choose(SEEN * SEEN + ALIKE * whole, apart, both, 0.0)
        # Each must have a size that can be, beside the other.
        for cause, own, others in ((one, (a, b), square[b]), (other, (b, a), square[a])):
            if not cause.either_way:
                size = cross[own[0]] * others - cross[own[1]] * between
                gain = choose(0.0, size, gain, 0.0)
        found[a, b] = greatest(gain, taken[a], taken[b])
    return found


def _how_many(behind: Mapping[str, Real], least_lead: float) -> Real:
    """Return how many causes are less than so much behind the best, itself counted."""
    return _sum([choose(value, least_lead, 1.0, 0.0) for value in behind.values()])


def _place(values: list[Real]) -> Real:
    """Return the place of the least of some values, the first of equals, counted from 0."""
    place: Real = 0.0
    lowest = values[0]
    for n, value in enumerate(values[1:], 1):
        place = choose(value, lowest, float(n), place)
        lowest = least(lowest, value)
    return place


def _verdict(f: Mapping[str, Real]) -> Real:
    """Return what the run says, by number."""
    firm = choose(calc.VERY_STRONG, f["lead"], SURE, LIKELY)
    firm = choose(f["near"], 1.5, firm, LIKELY)
    firm = choose(f["misfit_left"], FITS, firm, LIKELY)
    firm = choose(f["pair_lead"], calc.BARE, firm, LIKELY)
    firm = choose(f["misfit_left"], HARDLY, firm, UNKNOWN)
    one = choose(f["alike"], 1.5, firm, UNTOLD)
    some = choose(f["pair_lead"], calc.STRONG, one, SEVERAL)
    said = choose(f["lead"], calc.STRONG, NOTHING, some)
    return choose(f["count"], FEWEST, TOO_FEW, said)


def _sizes(cross: Mapping[str, Real], square: Mapping[str, Real]) -> dict[str, Real]:
    """Return the size of each cause, fitted alone, and what that is good for."""
    sizes: dict[str, Real] = {}
    for cause in CAUSES:
        unit = ONE_KPA if cause.key in PRESSURES else 1.0
        of = square[cause.key]
        size, unsure = cross[cause.key] / of * unit, unit / of**0.5
        sizes[f"{cause.key}_size"] = choose(SEEN, of, size, _UNSEEN)
        sizes[f"{cause.key}_unsure"] = choose(SEEN, of, unsure, _UNSEEN)
    return sizes


# --- entries and answers -----------------------------------------------------------------------

PRESSURES = ("inlet", "gauge")
"""Causes whose size is a pressure, for one kilopascal of which their signatures are."""

_UNSEEN = Refusal("None of the gauges read shows it.")


def _column(gauge: str, column: str) -> Number:
    """Return a column's entry in a row."""
    scale = Scale("ratio", unit="", span=(-1e5, 1e5), default=None, step=1)
    return Number(f"{gauge}_{column}", f"{gauge}, {column}, over its uncertainty", scale)


FIELDS = (
    Number(
        "run_rest",
        "Boost gauge with the engine off",
        Scale("head", unit="kPa", span=(-20, 20), default=None, step=0.5),
        measure="Key on, engine off: it should be nought.",
        way_out="A gauge that is off by more than that is broken.",
    ),
    Parts(
        "run_rows",
        "Readings",
        tuple(_column(gauge, c) for gauge, columns in reading.COLUMNS.items() for c in columns),
        MOST_READINGS,
        ({f"air_{column}": 0.0 for column in reading.COLUMNS["air"]},),
    ),
)


def _size(key: str, label: str) -> tuple[Answer, Answer, Answer]:
    """Return a cause's answers."""
    if key in PRESSURES:
        make = partial(Answer, of="head", decimals={"kPa": 1, "psi": 2, "bar": 3})
        uncertainty = 1.0
    else:
        make = partial(Answer, of="percent", decimals={"pct": 1})
        uncertainty = 2.0
    return (
        make(
            f"{key}_size",
            label,
            tolerance=1e-3,
            uncertainty=uncertainty,
            optional=True,
            by=(calc.shared,),
        ),
        make(
            f"{key}_unsure",
            f"{label}, give or take",
            tolerance=1e-3,
            uncertainty=uncertainty,
            optional=True,
        ),
        _number(f"{key}_behind", f"{label}: behind the best", by=(calc.criterion, calc.explained)),
    )


_number = partial(Answer, of="ratio", decimals={"": 1}, tolerance=1e-3, uncertainty=1.0)

ANSWERS = (
    _number("verdict", "What the run says, by number", rank="main", decimals={"": 0}),
    _number("first", "Place of the cause that fits best", decimals={"": 0}),
    _number("pair", "Place of the two that fit best", decimals={"": 0}),
    _number("count", "Readings, of all gauges", decimals={"": 0}),
    _number("misfit", "Misfit without a cause"),
    _number("misfit_each", "Misfit without a cause, for each reading"),
    _number("misfit_left", "Misfit left for each reading, with the best"),
    _number("lead", "Best cause ahead of none"),
    _number("pair_lead", "Best two ahead of the best one", by=(calc.explained_by_two,)),
    _number("alike", "Causes that fit alike", decimals={"": 0}),
    _number("near", "Causes that are not far behind", decimals={"": 0}),
    *_size("slip", "Belt slip at full speed, over the entered"),
    *_size("leak", "Boost leak, share of the air at full speed"),
    *_size("bypass", "Air through the bypass, share at full speed"),
    *_size("inlet", "Depression at full speed, more than entered"),
    *_size("cooler", "Charge cooler's effectiveness lost"),
    *_size("pulley", "Blower slower than the pulleys entered"),
    *_size("breathing", "Engine breathes more than reckoned"),
    *_size("gauge", "Boost gauge reads high by"),
)


def _named() -> tuple[Working, ...]:
    """Return what the answers' formulas are written with, each only named."""
    said = {
        f"{gauge}_{a}_{b}": f"Sum over the readings of {gauge}: {a} × {b}"
        for gauge, columns in reading.COLUMNS.items()
        for a, b in _every_two(columns)
    }
    for cause in CAUSES:
        said |= {
            f"{cause.key}_cross": f"Signature of {cause.key} with the readings",
            f"{cause.key}_square": f"Signature of {cause.key} with itself",
            f"{cause.key}_taken": f"Misfit that {cause.key} takes away",
            f"{cause.key}_judged": f"Criterion with {cause.key}",
        }
    said |= {f"{a}_{b}_taken": f"Misfit that {a} and {b} take away" for a, b in PAIRS}
    said |= {
        "best": "Criterion of the best cause",
        "two": "Criterion of the best two",
        "most": "Misfit that the best two take away",
    }
    return tuple(Working(key, label, listed=False) for key, label in said.items())


LOOKUP = Lookup(
    key="run-causes",
    title="Weigh the causes",
    short="Causes",
    question="Which cause explains the readings?",
    stage="start",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=_named(),
    cautions=(),
    sources=(
        "Generalised least squares: Aitken (1935). Shared error: Sherman and Morrison (1950).",
        "Choice among models: Schwarz, Annals of Statistics 6 (1978), 461; differences of 6 and 10 "
        "as strong and very strong: Kass and Raftery (1995).",
    ),
    leaves_out=("More than two causes at once.",),
)
