"""The fittings of `pipe_fittings.toml` as typed records."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from site_src.data.reader import Mark, Table, read


@dataclass(frozen=True)
class PipeFitting:
    """A kind of fitting: its loss coefficient, and how many right angles it turns."""

    key: str
    label: str
    coefficient: float
    turns: int
    source: str
    mark: Mark


@cache
def pipe_fittings() -> tuple[PipeFitting, ...]:
    """Every kind of fitting, the plainest first.

    >>> pipe_fittings()[1].coefficient
    1.5
    """
    return read(
        Path(__file__).with_suffix(".toml"),
        lambda file: file.rows("fitting", _fitting, unique=["key"]),
    )


def _fitting(row: Table) -> PipeFitting:
    """Return a fitting."""
    return PipeFitting(
        key=row.text("key"),
        label=row.text("label"),
        coefficient=row.measure("coefficient", "ratio", (0, 20)),
        turns=row.whole("turns", 0, 4) if row.has("turns") else 0,
        source=row.source(),
        mark=row.mark(),
    )
