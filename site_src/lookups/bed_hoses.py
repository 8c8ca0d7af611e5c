"""The hoses to an exchanger that moves from the nose to the bed: entries of two pages."""

from __future__ import annotations

from site_src.model.fields import SIXTEENTHS, Number, Scale


def entries(group: str) -> tuple[Number, ...]:
    """Return the entries that say how much longer the loop gets, in a fold of this name."""
    return (
        Number(
            "nose_hose",
            "Hose in all, exchanger in the nose",
            Scale("run", unit="m", span=(0.5, 20), default=6, step=0.5),
            measure="There and back. Is the loop as entered the bed's already? Enter both alike.",
            way_out="[0.5 to 20 m|1.7 to 65 ft].",
            sign="L_n",
            group=group,
        ),
        Number(
            "bed_hose",
            "Hose in all, exchanger in the bed",
            Scale("run", unit="m", span=(0.5, 20), default=12, step=0.5),
            measure="A tape along the frame, there and back.",
            way_out="[0.5 to 20 m|1.7 to 65 ft].",
            sign="L_b",
            group=group,
        ),
        Number(
            "hose_bore",
            "Bore of the hose to it",
            Scale("length", unit="mm", span=(8, 55), default=19, step=1, inch=SIXTEENTHS),
            measure="Inside, off the hose's print or by a drill's shank that just goes in.",
            way_out="[8 to 55 mm|0.32 to 2.1 in].",
            sign="D",
            group=group,
        ),
    )
