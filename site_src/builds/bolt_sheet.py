"""A build's bolts: makers' torques beside what they work out as, and tightening maps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from site_src.builds.job import Figure
from site_src.builds.lines import Line, entry_text, origin
from site_src.builds.setup import exact_outcomes
from site_src.face.words import read_answer
from site_src.lookups import lookup, sheets
from site_src.model.fields import Choice, Number

_STAGE_WORDS = {"torque": "Pass", "angle": "Angle", "loosen": "Loosen", "check": "Check"}
"""As the phone calls them (static/js/bolts/progress.js)."""


@dataclass(frozen=True)
class MapSheet:
    """A tightening map."""

    title: str
    facts: tuple[Line, ...]
    view_box: str
    bolts: tuple[tuple[str, str, str], ...]
    stages: tuple[tuple[str, ...], ...]


def torque_row(figure: Figure) -> Mapping[str, str]:
    """Return one torque of the list: as printed, for which bolt, and what it works out as."""
    page = lookup("torque")
    numbers = {f.key: f for f in sheets.TORQUE.fields if isinstance(f, Number)}
    choices = {f.key: f for f in sheets.TORQUE.fields if isinstance(f, Choice)}
    said = [
        choices[key].option(option).label
        for key, option in figure.choices.items()
        if option != sheets.NOT_STATED.key
    ]
    angle = figure.values.get("maker_angle")
    inputs = {
        key: option
        for key, option in figure.choices.items()
        if key in page.choices and option != sheets.NOT_STATED.key
    }
    lacks = [page.choices[k].label for k in ("thread", "grade", "friction") if k not in inputs]
    worked = f"Not worked out: {', '.join(lacks).lower()} not stated." if lacks else ""
    if angle:
        # The torque before an angle only seats the parts: one worked out for the whole clamp load
        # beside it would be read as a second figure for the same wrench.
        worked = "Not compared: the angle does the tightening."
    elif not lacks:
        values = {key: amount.value for key, amount in figure.values.items()}
        (outcome,) = exact_outcomes(page, [{**inputs, **values}])
        reading = read_answer(page, page.answer("worked_torque"), outcome)
        worked = reading.number if reading.text else reading.words
    torque = figure.values.get("maker_torque")
    return {
        "name": figure.name or "Fastener",
        "bolt": ", ".join(said),
        "torque": entry_text(numbers["maker_torque"], torque) if torque else "",
        "angle": entry_text(numbers["maker_angle"], angle) if angle else "",
        "more": figure.texts.get("sequence", ""),
        "worked": worked,
        "origin": origin(figure.source, figure.page),
    }


def map_sheet(bolts: Mapping[str, Any]) -> MapSheet:
    """Return a map with its bolts drawn and its stages in words."""
    places, names = bolts["places"], bolts["names"]
    across, up = [x for x, _ in places], [y for _, y in places]
    span = max(max(across) - min(across), max(up) - min(up), 1.0)
    unit = span / 10.0
    box = (
        min(across) - unit,
        -max(up) - unit,
        max(across) - min(across) + 2 * unit,
        max(up) - min(up) + 2 * unit,
    )
    done = f"Finished {bolts['finished'][:16].replace('T', ' ')}" if bolts["finished"] else "Open"
    facts = (
        Line("Bolt", f"{len(places)} × {bolts['bolt']}"),
        Line("Torque", bolts["torque"]),
        Line("Figure from", bolts["source"] or "no source noted"),
        Line("Order", "the maker's" if bolts["orderBy"] == "maker" else "worked out"),
        Line("Wrench", bolts["wrench"] or "not noted"),
        Line("Done", ", ".join(each for each in (done, bolts["who"]) if each)),
    )
    scale = 100.0 / span
    return MapSheet(
        bolts["title"],
        facts,
        " ".join(f"{each * scale:.1f}" for each in box),
        tuple(
            (name, f"{x * scale:.1f}", f"{-y * scale:.1f}")
            for name, (x, y) in zip(names, places, strict=True)
        ),
        tuple(_stage_words(n, bolts["stages"], names) for n in range(len(bolts["stages"]))),
    )


def _stage_words(
    n: int, stages: Sequence[Mapping[str, Any]], names: Sequence[str]
) -> tuple[str, ...]:
    """Return a stage in words: its name, the dial or the angle, the bolts in their order.

    Passes are counted, of the others those that come more than once.
    """
    stage, kinds = stages[n], [each["kind"] for each in stages]
    kind = stage["kind"]
    counts = kind == "torque" or kinds.count(kind) > 1
    name = f"{_STAGE_WORDS[kind]} {kinds[: n + 1].count(kind)}" if counts else _STAGE_WORDS[kind]
    angle = f"{stage['angle']:g}°" if stage["angle"] else ""
    dial = stage["dial"]["plain"] or angle
    return (name, dial, ", ".join(names[bolt] for bolt in stage["order"]))
