"""A build's hold points as they stand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from site_src.holds import HoldPoint, HoldStage, hold_stages


@dataclass(frozen=True)
class Point:
    """A hold point as it stands."""

    point: HoldPoint | None
    title: str
    state: str
    said: str


@dataclass(frozen=True)
class Stage:
    """A stage's hold points."""

    label: str
    points: tuple[Point, ...]


def stages(holds: Sequence[Mapping[str, Any]]) -> tuple[Stage, ...]:
    """Return every hold point as it stands, and the shop's own ones, stage by stage."""
    return tuple(_stage(stage, holds) for stage in hold_stages())


def _stage(stage: HoldStage, holds: Sequence[Mapping[str, Any]]) -> Stage:
    """Return a stage's points, the shop's own ones last; those that it deleted are gone."""
    logs = {hold["point"]: hold["log"] for hold in holds}
    known = {point.key for each in hold_stages() for point in each.points}
    own = [h["log"] for h in holds if h["stage"] == stage.key and h["point"] not in known]
    points = [
        *(_point(point, logs.get(point.key, ())) for point in stage.points),
        *(_point(None, log) for log in own),
    ]
    return Stage(stage.label, tuple(point for point in points if point.title))


def _point(point: HoldPoint | None, log: Sequence[Mapping[str, str]]) -> Point:
    """Return a hold point as it stands after all that was done to it."""
    now: Mapping[str, str] | None = None
    before: Mapping[str, str] | None = None
    title, gone = point.check if point else "", False
    for deed in log:
        match deed["do"]:
            case "signed" | "skipped":
                now = deed
            case "taken back":
                now, before = None, now
            case "put back":
                now = before
            case "added" | "renamed" if not point:
                title = deed["note"]
            case "deleted":
                gone = True
            case "brought back":
                gone = False
    state = now["do"] if now else "open"
    said = ""
    if now:
        said = f"{now['who']}, {now['at'][:16].replace('T', ' ')}"
        said += f": {now['note']}" if now["note"] else ""
    return Point(point, "" if gone else title, state, said)
