"""What to do to mount a coolant loop, and to fill and bleed it, ticked as it is done."""

from __future__ import annotations

from site_src.model.answers import ProcedureView

MOUNT = ProcedureView(
    "Mount it",
    (
        "Engine off and cold, key out. Truck on stands if you go under it.",
        "Tank highest of all, outlet at its lowest point; pump below it, so that it "
        "floods by itself with the cap off.",
        "Shortest and widest hose from tank to pump, no elbow in it, never uphill.",
        "Arrow on the pump as the coolant goes. None: outlet at the rim, inlet in the middle.",
        "Pump's outlet up or to the side, so that no bubble stays in its head.",
        "Cores with their ports at the top and the outlet the upper one, or lying so "
        "that air can leave.",
        "A bleed point at every place where the hose goes up and comes down again.",
        "Hoses clear of exhaust, belts, fan and steering by a hand's width; sleeve or "
        "shield where they can't be. Grommet in every hole.",
        "Hold them every [600 mm|24 in] at most, so that none hangs on a port. Wires to pump "
        "and fans tied off within a hand of the plug.",
        "Port barbs clean and beaded, clamp behind the bead, nothing that cuts.",
    ),
    note="Common practice. Clamp spacing: NAVEDTRA 14105, chapter 5. The maker's own "
    "instructions come first.",
    ticks=(
        "safe",
        "flooded",
        "supply",
        "arrow",
        "outlet",
        "ports",
        "bleed points",
        "clear",
        "held",
        "clamps",
    ),
    drawing="loop",
)

FILL = ProcedureView(
    "Fill and bleed it",
    (
        "Mix glycol and soft water first, in a bucket; this page says how much.",
        "Open every bleed point. Fill slowly at the tank until each runs without "
        "bubbles, the lowest first; close it.",
        "Pump on for ten seconds, off for ten, five times, topping up: never dry.",
        "Nose up, or the highest hose lifted and squeezed, to let the rest out.",
        "Pump running: bleed each point once more. Then five minutes running, cap off.",
        "Done when the return runs full and clear, the level stays, the pump hums "
        "evenly, and the bucket test is near what this page says. Driven warm: "
        "hose out of the charge cooler warmer than the one in, out of the exchanger "
        "cooler; all alike, or one cold: no flow.",
        "Look at every joint with the pump running, then again hot. Level again after "
        "the first drive, cold.",
    ),
    note="Common practice.",
    ticks=("mixed", "filled", "pulsed", "lifted", "run", "flow", "tight"),
)
