"""Belt route: the belt round up to ten pulleys, as they are measured with a tape.

Every pulley is a circle on which the belt's cord runs. Directions are kept as unit vectors, worked
out with a root, and only a contact's angle is looked up in a table. A route that can't run gets no
length; the words say which pulley or run is at fault, and the drawing shows it all the same.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

from calc import belt_route as calc
from calc import belt_tensioner, belts
from calc.domain import Real
from site_src.lookups import boost, boost_fields
from site_src.lookups.belt import BACK_HEIGHT, PK
from site_src.lookups.belt_route_fields import FIELDS, KINDS, NONE
from site_src.lookups.belt_route_geometry import (
    HALF,
    LOOK,
    NO_CROSSING,
    PLACES,
    Pulley,
    Route,
    area,
    crossings,
    gaps,
    if_used,
    put,
    rooms,
    route,
    turned_in_all,
)
from site_src.lookups.belt_route_samples import Entered, Floats, likely
from site_src.lookups.belt_route_tensioner import (
    bend,
    flagged,
    local,
    seat,
    tightens,
    travel,
)
from site_src.model.answers import Answer, Band, ChartView, CompareView, Views, Working
from site_src.model.entries import Entries
from site_src.model.formulas import told
from site_src.model.lookup import Lookup
from site_src.tables.trace import choose, greatest, least, within

LINE = PK.line_differential.value

NEAR_ROOM = 1.5
"""Room over the room to keep under which a run is called near a pulley. Common practice."""

NEAR_END = 0.15
"""Share of the tensioner's travel at either end in which a belt is called near it. Common
practice."""

NEAR_RUN = 1.25
"""Run over the shortest accepted under which it is called short. Common practice."""

MUCH = 1.25 * HALF
"""Contact, rad, from which on a pulley on a belt that crosses itself is thought to be at fault."""

_NO_BLOWER = "None of the pulleys is the blower's. Say which one is."
_BLOWERS = "Two pulleys are named as the blower's. Only one can be."
_NO_TENSIONER = "None of the pulleys is a tensioner. Say which one is."
_TENSIONERS = "Two pulleys are named as the tensioner. Only one can be: name the other an idler."
_TWO_ONLY = "With a tensioner a route needs three pulleys at least."
_OTHER_WAY = (
    "The list goes round the other way than the crank turns: the belt would cross itself. List the "
    "pulleys in the order in which one spot of the belt meets them, or change the way that the "
    "crank turns."
)
_INSIDE_OUT = (
    "The belt would run inside out, with its back on most pulleys. Change ribs and back on all but "
    "the crank."
)
_LOOPS = (
    "The belt would loop round itself. A pulley is out of order in the list, or on the wrong side."
)
_SHORT = "The belt comes out under 20 cm: look at the units."
_LONG = "The belt comes out over [15 m|49 ft]: look at the units."
_TOO_SHORT = "Too short: it doesn't go on even at the tensioner's slack stop. Take a longer one."
_TOO_LONG = "Too long: it hangs slack even at the tensioner's tight stop. Take a shorter one."
_NO_PULLEY = "There is no pulley at this place."


# --- the calculation ---------------------------------------------------------------------------


def reckon(e: Entries) -> Mapping[str, Real]:
    """Work out runs, contacts and length, and what belts the tensioner takes."""
    found = route(pulleys(e))
    lengths = [run.length for run in found.runs]
    straight = found.of_used(lengths)
    arcs = found.of_used(
        [angle * p.radius for angle, p in zip(found.wraps, found.pulleys, strict=True)]
    )
    faults = _faults(found)
    total = _whole(found, _sum(straight) + _sum(arcs), faults)
    values = {
        "pitch_length": total,
        "belt_length": calc.effective_length(total, LINE),
        "shortest_run": least(*found.of_used(lengths, 10.0, "run")),
        "run_near": NEAR_RUN * e["least_run"],
        "room_near": NEAR_ROOM * e["clearance"],
    }
    values["least_room"] = within(
        total,
        0.0,
        None,
        gives=least(*faults["gap"], *found.of_used(faults["room"], 10.0, "room beside run")),
    )
    values |= _at_places(found, straight, arcs, faults)
    values |= _blower(e, found, total)
    return values | _tensioner(e, found, total)


def pulleys(e: Entries) -> list[Pulley]:
    """Return the pulleys as measured, on the circles on which the cord runs."""
    own = e.pick("travel", {"clockwise": -1.0, "counter": 1.0})
    allowance = boost.line_allowance(e)
    crank = 0.5 * (e["crank_pulley"] + allowance)
    found = [put(1, 1.0, e["x_1"], e["y_1"], crank, own)]
    for n in range(2, PLACES + 1):
        diameter = e.pick(f"kind_{n}", {o.key: e[_diameter(o.key, n)] for o in KINDS})
        on_back = belts.pitch_diameter_of_back_idler(diameter, BACK_HEIGHT)
        pitch = e.pick(f"side_{n}", {"ribs": diameter + allowance, "back": on_back})
        turn = own * e.pick(f"side_{n}", {"ribs": 1.0, "back": -1.0})
        used = e.pick(f"kind_{n}", {o.key: float(o.key != NONE) for o in KINDS})
        found.append(put(n, used, e[f"x_{n}"], e[f"y_{n}"], 0.5 * pitch, turn))
    return found


def _diameter(kind: str, number: int) -> str:
    """Return where the diameter of a pulley is entered."""
    return "blower_pulley" if kind == "blower" else f"d_{number}"


def _sum(values: Sequence[Real]) -> Real:
    """Add up."""
    total: Real = values[0]
    for value in values[1:]:
        total = total + value
    return total


def _faults(found: Route) -> dict[str, list[Real]]:
    """Return what tells, by place, whether the belt can run."""
    return {"gap": gaps(found.pulleys), "room": rooms(found), "crossing": crossings(found)}


def _whole(found: Route, length: Real, faults: Mapping[str, Sequence[Real]]) -> Real:
    """Return the belt's length if it can run; else the first reason why not."""
    kept = length
    for pulley, gap in zip(found.pulleys[1:], faults["gap"], strict=True):
        words = f"Pulley {pulley.number} overlaps one before it in the list: {LOOK}"
        kept = within(gap, 0.0, None, below=words, gives=kept)
    crosses = found.of_used(faults["crossing"])
    worst = least(*crosses)
    way = choose(worst, NO_CROSSING, area(found), 1.0)
    kept = within(way, 0.0, None, below=_OTHER_WAY, gives=kept)
    turned = turned_in_all(found)
    # A pulley that the belt hardly misses gives a loop too small to be seen as a crossing.
    looped = choose(worst, NO_CROSSING, 1.0, choose(turned, HALF, 1.0, 0.0))
    for pulley, angle in zip(found.pulleys, found.wraps, strict=True):
        round_it = if_used(pulley, looped * angle, 0.0)
        kept = within(round_it, None, MUCH, above=_wrong_side(pulley.number), gives=kept)
    for pulley, cross, room in zip(
        found.pulleys, crosses, found.of_used(faults["room"]), strict=True
    ):
        run = f"The run from pulley {pulley.number} to the next"
        kept = within(
            cross,
            NO_CROSSING,
            None,
            below=f"{run} crosses another run: a pulley is on the wrong side of the belt, or out "
            "of order in the list.",
            gives=kept,
        )
        kept = within(
            room,
            0.0,
            None,
            below=f"{run} cuts into a pulley on its way: list that pulley where the belt meets it, "
            "or measure it again.",
            gives=kept,
        )
    kept = within(turned, HALF, 3.0 * HALF, below=_INSIDE_OUT, above=_LOOPS, gives=kept)
    return within(kept, 0.2, 15.0, below=_SHORT, above=_LONG)


def _wrong_side(number: int) -> str:
    """Say that a pulley is likely the one at fault."""
    return (
        f"The belt would go nearly all the way round pulley {number} and cross itself: this pulley "
        "is on the wrong side of the belt, or out of order in the list."
    )


def _at_places(
    found: Route,
    straight: Sequence[Real],
    arcs: Sequence[Real],
    faults: Mapping[str, Sequence[Real]],
) -> dict[str, Real]:
    """Return what the page shows and draws of each place."""
    values: dict[str, Real] = {}
    for n, pulley in enumerate(found.pulleys):
        run, number = found.runs[n], pulley.number
        end = calc.leaves_at(found.nexts[n], run)
        there = partial(within, pulley.used, 0.5, None, below=_NO_PULLEY)
        values |= {
            f"at_x_{number}": pulley.circle.x,
            f"at_y_{number}": pulley.circle.y,
            f"radius_{number}": there(gives=pulley.radius),
            f"signed_{number}": pulley.circle.signed_radius,
            f"right_{number}": run.right,
            f"up_{number}": run.up,
            f"from_x_{number}": run.x,
            f"from_y_{number}": run.y,
            f"to_x_{number}": end[0],
            f"to_y_{number}": end[1],
            f"cosine_{number}": found.cosines[n],
            f"sine_{number}": found.sines[n],
            f"first_{number}": found.firsts[n],
            f"straight_{number}": straight[n],
            f"arc_{number}": arcs[n],
            f"fault_{number}": choose(
                faults["crossing"][n], NO_CROSSING, 1.0, choose(faults["room"][n], 0.0, 1.0, 0.0)
            ),
            f"overlap_{number}": choose(faults["gap"][n - 1], 0.0, 1.0, 0.0) if n else 0.0,
            f"long_{number}": choose(HALF, found.wraps[n], 1.0, 0.0),
            f"wrap_{number}": there(gives=found.wraps[n]),
            f"run_{number}": there(gives=run.length),
        }
    return values


def _blower(e: Entries, found: Route, total: Real) -> dict[str, Real]:
    """Return what the pages on grip and tone ask of the route."""
    flags = _flags(e, "blower")
    count = _sum(flags)

    def of_blower(values: Sequence[Real], name: str) -> Real:
        gives = within(total, 0.0, None, gives=flagged(flags, values, name))
        return within(count, 1.0, 1.0, below=_NO_BLOWER, above=_BLOWERS, gives=gives)

    reaching = _reaching(found)
    return {
        "blower_wrap": of_blower(found.wraps[1:], "wrap at the place of the blower"),
        "crank_wrap": within(total, 0.0, None, gives=found.wraps[0]),
        "blower_run": of_blower(
            [least(reaching[n], found.runs[n].length) for n in range(1, PLACES)],
            "shorter of the runs at the place of the blower",
        ),
        "pluck_run": within(total, 0.0, None, gives=_longest_still(e, found)),
    }


def _flags(e: Entries, kind: str) -> list[Real]:
    """Return 1 for each place from the second on at which a pulley is of a kind, else 0."""
    return [
        e.pick(f"kind_{n}", {o.key: float(o.key == kind) for o in KINDS})
        for n in range(2, PLACES + 1)
    ]


def _reaching(found: Route) -> list[Real]:
    """Return, by place, the length of the run that comes to it."""
    last = found.runs[0].length
    reaching = []
    for pulley, run in zip(found.pulleys[1:], found.runs[1:], strict=True):
        reaching.append(last)
        last = if_used(pulley, run.length, last)
    return [last, *reaching]


def _longest_still(e: Entries, found: Route) -> Real:
    """Return the longest run that doesn't touch the tensioner: the one to pluck."""
    flags = [0.0, *_flags(e, "tensioner")]
    follows, after = flags[0], []
    for pulley, flag in zip(found.pulleys[::-1], flags[::-1], strict=True):
        after.append(follows)
        follows = if_used(pulley, flag, follows)
    runs = [
        choose(flag + behind, 0.5, run.length, 0.0)
        for flag, behind, run in zip(flags, after[::-1], found.runs, strict=True)
    ]
    longest = greatest(*found.of_used(runs, 0.0, "run clear of it"))
    return within(longest, 1e-6, None)


def _tensioner(e: Entries, found: Route, total: Real) -> dict[str, Real]:
    """Return what belts the tensioner takes, and where one belt puts it."""
    flags = _flags(e, "tensioner")
    count, there = _sum(flags), _sum([pulley.used for pulley in found.pulleys[1:]])
    named = within(count, 1.0, 1.0, below=_NO_TENSIONER, above=_TENSIONERS, gives=there)
    at = local(found, flags, within(named, 2.0, None, below=_TWO_ONLY, gives=1.0))
    way, arm = travel(e)
    drawn = bend(at, at.own.x, at.own.y)
    slack, middle, tight = (
        bend(at, place.x, place.y) for place in (way.slack, way.middle, way.tight)
    )

    def moving(value: Real) -> Real:
        return e.pick("tensioner_way", {"slot": value, "arm": value, "none": float("nan")})

    rest = total - drawn.length

    def whole(piece: Real) -> Real:
        return within(rest + piece, 0.2, 15.0, below=_SHORT, above=_LONG)

    shortest = moving(tightens(slack, way.slack, whole(slack.length)))
    longest = moving(tightens(tight, way.tight, whole(tight.length)))
    shortest, longest = told(shortest, "shortest, cord"), told(longest, "longest, cord")
    halfway = least(greatest(rest + middle.length, shortest), longest)
    effective = partial(calc.effective_length, line_differential=LINE)
    buy = e.pick("tensioner_way", {"slot": halfway, "arm": halfway, "none": total})
    values = {
        "tensions_1": 0.0,
        **{f"tensions_{n}": flag for n, flag in enumerate(flags, 2)},
        "elsewhere": rest,
        **{
            f"{name}_stop_{axis}": value
            for name, place in (("slack", way.slack), ("middle", way.middle), ("tight", way.tight))
            for axis, value in (("x", place.x), ("y", place.y))
        },
        "bend_slack": slack.length,
        "bend_middle": middle.length,
        "bend_tight": tight.length,
        "shortest_belt": effective(shortest),
        "longest_belt": effective(longest),
        "length_to_buy": effective(within(buy, 0.2, 15.0, below=_SHORT, above=_LONG)),
        "slack_side": within(total, 0.0, None, gives=_after_tensioner(e)),
        "travel_length": way.length,
        "end_near": NEAR_END * way.length,
    }
    pitch = told(calc.pitch_length(e["fitted_belt"], LINE), "your belt, cord")
    three = slack.length, middle.length, tight.length
    over, under = pitch - shortest, longest - pitch
    fits = within(over, 0.0, None, below=_TOO_SHORT, gives=pitch)
    fits = within(under, 0.0, None, below=_TOO_LONG, gives=fits)
    place = seat(at, way, arm, e, told(fits - rest, "belt past the tensioner"), three)
    return values | {
        "over_shortest": over,
        "under_longest": under,
        "travel_to_slack": place.gone,
        "travel_to_tight": way.length - place.gone,
        "seat_x": place.x,
        "seat_y": place.y,
    }


def _after_tensioner(e: Entries) -> Real:
    """Return by how many places the blower comes after the tensioner, along the belt."""
    places = []
    for kind, none, more in (
        ("blower", _NO_BLOWER, _BLOWERS),
        ("tensioner", _NO_TENSIONER, _TENSIONERS),
    ):
        flags = _flags(e, kind)
        place = _sum([flag * float(n) for n, flag in enumerate(flags, 2)])
        place = told(place, f"place of the {kind}")
        places.append(within(_sum(flags), 1.0, 1.0, below=none, above=more, gives=place))
    return places[0] - places[1]


# --- the page ----------------------------------------------------------------------------------

_TAPE = 3.0
"""What a length is good for if centres are measured to a millimetre or two, mm."""

_length = partial(
    Answer, of="length", decimals={"mm": 1, "in": 2}, tolerance=1e-4, uncertainty=_TAPE
)
"""Makes an answer that is a length."""

_travel = partial(_length, tolerance=1e-2, optional=True, by=(belt_tensioner.moved_along,))
"""Makes an answer about where a belt puts the tensioner."""

_angle = partial(
    Answer, of="angle", decimals={"deg": 1}, tolerance=1e-5, uncertainty=1.0, by=(calc.wrap_angle,)
)
"""Makes an answer that is an angle of contact."""

_MAIN_ANSWERS = (
    _length(
        "length_to_buy",
        "Effective length to look for",
        rank="main",
        note="With the tensioner in the middle of its travel; where that is not measured, as "
        "drawn. Then take the belt that exists nearest to it.",
        by=(calc.effective_length,),
    ),
    _length(
        "over_shortest",
        "Your belt over the shortest that goes on",
        band=Band(
            side="min",
            limit=0.0,
            near=0.0,
            within="Your belt is {value} longer than the shortest that goes on.",
            near_words="Your belt is just the shortest that goes on.",
            beyond="Your belt is {margin} too short: it doesn't go on at the slack stop.",
        ),
        optional=True,
    ),
    _length(
        "under_longest",
        "Your belt under the longest that is held",
        band=Band(
            side="min",
            limit=0.0,
            near=0.0,
            within="Your belt is {value} shorter than the longest that is held tight.",
            near_words="Your belt is just the longest that is held.",
            beyond="Your belt is {margin} too long: it hangs slack at the tight stop.",
        ),
        optional=True,
    ),
    _travel(
        "travel_to_slack",
        "Tensioner's travel left, to slack",
        sign="s",
        band=Band(
            side="min",
            limit=0.0,
            near="end_near",
            within="Your belt leaves {value} of travel to the slack stop.",
            near_words="Your belt leaves only {value} of travel to the slack stop: it is hard to "
            "get on, and a kick of the engine drives the arm into its stop.",
            beyond="Your belt is over the slack stop.",
        ),
        rank="second",
        note="Along the slot, or round the pivot at the pulley's centre.",
    ),
    _travel(
        "travel_to_tight",
        "Tensioner's travel left, to tight",
        band=Band(
            side="min",
            limit=0.0,
            near="end_near",
            within="Your belt leaves {value} of travel to the tight stop, for stretch and wear.",
            near_words="Your belt leaves only {value} of travel to the tight stop: stretch and "
            "wear use that up. Take a shorter one.",
            beyond="Your belt is past the tight stop.",
        ),
        rank="second",
    ),
    _angle("blower_wrap", "Wrap on the blower pulley", rank="second", optional=True),
    _length(
        "least_room",
        "Least room beside a run, or between pulleys",
        band=Band(
            side="min",
            limit="clearance",
            near="room_near",
            within="Least room {value}, {margin} more than you keep.",
            near_words="Least room {value}, only {margin} more than you keep: look where, and turn "
            "the engine by hand.",
            beyond="Least room only {value}, {margin} less than you keep: the belt will rub. "
            "Move a pulley.",
        ),
        tolerance=1e-6,
        by=(calc.rim_gap, calc.along_run, calc.beside_run),
    ),
    _length(
        "shortest_run",
        "Shortest run",
        band=Band(
            side="min",
            limit="least_run",
            near="run_near",
            within="Shortest run {value}, {margin} over the least that you accept.",
            near_words="Shortest run {value}, only {margin} over the least that you accept.",
            beyond="Shortest run only {value}, {margin} under the least that you accept: no length "
            "to steer the belt over. Move a pulley.",
        ),
        tolerance=1e-6,
        by=(calc.run_square,),
    ),
    Answer(
        "slack_side",
        "Places from the tensioner on to the blower",
        decimals={"": 0},
        tolerance=1e-6,
        uncertainty=1.0,
        band=Band(
            side="min",
            limit=0.0,
            near=0.0,
            within="The tensioner is on the slack side, which leaves the crank. There it belongs.",
            near_words="The tensioner is on the slack side, which leaves the crank.",
            beyond="The tensioner is on the tight side, where the blower's pull lifts it. It "
            "belongs on the runs that leave the crank, before the blower.",
        ),
        note="Less than nothing: the blower comes first, and the tensioner is on the tight side.",
        optional=True,
    ),
    _length(
        "shortest_belt",
        "Shortest belt that goes on",
        note="Effective length at the slack stop.",
        optional=True,
        by=(calc.effective_length,),
    ),
    _length(
        "longest_belt",
        "Longest belt that is held",
        note="Effective length at the tight stop.",
        optional=True,
        by=(calc.effective_length,),
    ),
    _length(
        "belt_length",
        "Effective length as drawn",
        note="With the tensioner where you measured it.",
        by=(calc.effective_length,),
    ),
    _length("pitch_length", "Length along the cord, as drawn", sign="L_p"),
    _travel("seat_x", "Your belt puts the tensioner, right"),
    _travel("seat_y", "Your belt puts the tensioner, up"),
    _angle("crank_wrap", "Wrap on the crank pulley"),
    _length(
        "blower_run",
        "Shorter run at the blower",
        tolerance=1e-6,
        optional=True,
        by=(calc.run_square,),
    ),
    _length(
        "pluck_run",
        "Longest run away from the tensioner",
        tolerance=1e-6,
        note="The one to pluck, for its tone.",
        optional=True,
        by=(calc.run_square,),
    ),
)


def _at_place(number: int) -> tuple[Answer, Answer]:
    """Return the answers about one place of the list."""
    return (
        _angle(f"wrap_{number}", f"Wrap on pulley {number}", sign=f"θ_{number}", optional=True),
        _length(
            f"run_{number}",
            f"Run from pulley {number} to the next",
            sign=f"l_{number}",
            tolerance=1e-6,
            optional=True,
            by=(calc.run_square, calc.run_between),
        ),
    )


ANSWERS = (
    *_MAIN_ANSWERS,
    *(answer for number in range(1, PLACES + 1) for answer in _at_place(number)),
)

_mm = partial(Working, of="length", unit="mm", decimals=1)
_named = partial(_mm, listed=False)
_plain = partial(Working, listed=False)


def _on_the_way(number: int) -> tuple[Working, ...]:
    """Return what the formulas of one place are written with."""
    n = number
    return (
        _named(f"at_x_{n}", f"pulley {n}, right", sign=f"x_{n}"),
        _named(f"at_y_{n}", f"pulley {n}, up", sign=f"y_{n}"),
        _named(f"signed_{n}", f"radius {n}, plus if counter-clockwise", sign=f"r_{n}"),
        _plain(f"right_{n}", f"run {n}, its direction to the right", sign=f"u_{n}"),
        _plain(f"up_{n}", f"run {n}, its direction up", sign=f"v_{n}"),
        _plain(f"cosine_{n}", f"cosine of wrap {n}", sign=f"c_{n}"),
        _plain(f"sine_{n}", f"sine of wrap {n}", sign=f"s_{n}"),
        _plain(f"first_{n}", f"wrap {n} in the first quarter", sign=f"φ_{n}"),
        _named(f"straight_{n}", f"run {n}"),
        _named(f"arc_{n}", f"arc {n}"),
    )


def _drawn(number: int) -> tuple[Working, ...]:
    """Return what the drawing takes of one place, besides what formulas name."""
    n = number
    return (
        _named(f"radius_{n}", f"radius of pulley {n}"),
        _named(f"from_x_{n}", f"start of run {n}, right"),
        _named(f"from_y_{n}", f"start of run {n}, up"),
        _named(f"to_x_{n}", f"end of run {n}, right"),
        _named(f"to_y_{n}", f"end of run {n}, up"),
        _plain(f"fault_{n}", f"1 if run {n} can't be"),
        _plain(f"overlap_{n}", f"1 if pulley {n} overlaps one before it"),
        _plain(f"long_{n}", f"1 if wrap {n} is over half a turn"),
        _plain(f"tensions_{n}", f"1 if pulley {n} is the tensioner"),
    )


WORKINGS = (
    _mm("elsewhere", "Belt away from the tensioner", sign="L_e"),
    _mm("bend_slack", "Belt past the tensioner, slack stop", sign="L_s"),
    _mm("bend_middle", "Belt past the tensioner, middle", sign="L_m"),
    _mm("bend_tight", "Belt past the tensioner, tight stop", sign="L_t"),
    _mm("travel_length", "The tensioner's travel", sign="S"),
    *(
        _named(f"{stop}_stop_{axis}", f"{name}, {way}")
        for stop, name in (
            ("slack", "slack stop"),
            ("middle", "middle of the travel"),
            ("tight", "tight stop"),
        )
        for axis, way in (("x", "right"), ("y", "up"))
    ),
    *(
        working
        for number in range(1, PLACES + 1)
        for working in (*_on_the_way(number), *_drawn(number))
    ),
)


def _belts_taken(entered: Entered) -> tuple[Floats, Floats]:
    """Return the shortest and the longest belt that the tensioner takes, in mm."""
    found = LOOKUP.direct(entered)
    return 1e3 * found["shortest_belt"], 1e3 * found["longest_belt"]


LOOKUP = Lookup(
    key="belt-route",
    title="Belt route",
    short="Route",
    question="Does the belt go this way, how much does it wrap, and which length fits?",
    stage="drive",
    fields=FIELDS,
    reckon=reckon,
    answers=ANSWERS,
    workings=WORKINGS,
    views=Views(
        charts=(
            ChartView(
                "Belt by blower pulley",
                "length_to_buy",
                "blower_pulley",
                boost_fields.EXAMPLES,
                also=("blower_wrap", "over_shortest", "under_longest"),
            ),
        ),
        compare=CompareView(
            "Blower pulleys side by side",
            "blower_pulley",
            ("pulley_b", "pulley_c"),
            (
                "length_to_buy",
                "over_shortest",
                "under_longest",
                "travel_to_slack",
                "travel_to_tight",
                "blower_wrap",
            ),
        ),
    ),
    cautions=(
        "Engine off and key out before a hand goes near a belt. It starts without warning.",
        "A sprung tensioner bites: hold it with the tool that its maker names, never with fingers.",
        "Before the first start turn the crank by hand, two whole turns, and watch every run.",
        "Turning parts catch sleeves, hair and rags. A guard belongs over every run that a hand "
        "can reach.",
        "The blower maker's own route, belt and tensioner, and the belt maker's least diameters, "
        "come first.",
    ),
    sources=(
        "Runs and contacts: geometry of the common tangents of circles.",
        f"Line differential of PK: {PK.line_differential.source}.",
        "Back of a belt to its cord: common practice. Measure it on a cut belt.",
        "Lengths every [5 mm|0.2 in], and 15 % of the travel as near a stop: common practice.",
    ),
    leaves_out=(
        "How well you measured: a millimetre at one pulley moves the length by up to two.",
        "The belt's own tolerance of length, and its stretch, when new and later.",
        "The belt's thickness: it is a line along the cord. Room beside a run is yours to choose.",
        "Pulleys that are not in one plane: see “Belt drive” and “Bracket stack”.",
        "What the tensioner meets on its way between the stops, apart from the pulleys beside it.",
    ),
    likely=lambda points, start: likely(points, start, _belts_taken),
)
