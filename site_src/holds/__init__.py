"""The hold points of `points.toml` as typed records, stage by stage.

They stand apart from `data`: no number hangs on them, and no proof.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal, get_args

from site_src.data.reader import Mark, Table, read

When = Literal["before the key", "at the first start", "after heat"]
"""When a stage is signed: before the engine is cranked, as it first runs, or once it has run."""

Role = Literal["above all", "starts"]
"""What one point is beyond the others: the chief one, or the one after which heat has been."""

READS = ("maps",)
"""What a point may be read from besides being signed."""


@dataclass(frozen=True)
class HoldPoint:
    """A point: what must be so, how to see it, what it guards against, and where it leads."""

    key: str
    check: str
    see: str
    against: str
    page: str
    reads: str
    role: Role | None
    source: str
    mark: Mark


@dataclass(frozen=True)
class HoldStage:
    """A stage of the job with its points, which open when those of the stages before are signed."""

    key: str
    label: str
    when: When
    points: tuple[HoldPoint, ...]

    def spec(self) -> dict[str, Any]:
        """Return what the phone is told: enough to know which point is next."""
        return {
            "key": self.key,
            "label": self.label,
            "when": self.when,
            "points": [
                {"key": p.key, "title": p.check, "reads": p.reads, "role": p.role or ""}
                for p in self.points
            ],
        }


@cache
def hold_stages() -> tuple[HoldStage, ...]:
    """Every stage with its points, in the order of the job.

    >>> [stage.key for stage in hold_stages() if stage.when == "before the key"]
    ['bolt', 'drive', 'plumb', 'feed', 'wire', 'key']
    """
    return read(
        Path(__file__).with_name("points.toml"),
        lambda file: file.rows("stage", _stage, unique=["key"]),
    )


def stages_spec() -> str:
    """Return what scripts are told of the stages and their points, as JSON."""
    return json.dumps([stage.spec() for stage in hold_stages()], ensure_ascii=False)


def _stage(row: Table) -> HoldStage:
    """Return a stage."""
    return HoldStage(
        key=row.text("key"),
        label=row.text("label"),
        when=row.choice("when", get_args(When)),
        points=row.rows("point", _point, unique=["key"]),
    )


def _point(row: Table) -> HoldPoint:
    """Return a point."""
    return HoldPoint(
        key=row.text("key"),
        check=row.text("check"),
        see=row.text("see"),
        against=row.text("against"),
        page=row.text("page") if row.has("page") else "",
        reads=row.choice("reads", READS) if row.has("reads") else "",
        role=row.choice("role", get_args(Role)) if row.has("role") else None,
        source=row.source(),
        mark=row.mark(),
    )
