"""What a table of the boost balance costs, against a plain grid of boost itself.

Run: python -m benchmarks.table_size. Prints, for the table that the site uses and for plain
four-axis grids of boost over pulley ratio, engine speed, coolant temperature and effectiveness,
the numbers held and the worst error in psi at 20,000 points, and the ratios between them.
"""

from __future__ import annotations

import numpy as np
from scipy.interpolate import RegularGridInterpolator

from site_src.lookups import lookup
from site_src.proof.comparison import prove
from site_src.tables.points import spread
from tests.calc import blower

PSI = 6894.757293168361
BOUNDS = [(1.5, 2.4, False), (30.0, 120.0, False), (283.15, 343.15, False), (0.0, 0.95, False)]


def plain(ratio: np.ndarray, speed: np.ndarray, coolant: np.ndarray, eps: np.ndarray) -> np.ndarray:
    """Return boost in psi for a set-up of our own invention, NaN where there is no balance."""
    setup = blower.SetUp(
        engine_displacement=5.6e-3,
        blower_displacement=2.6e-3,
        built_in_ratio=1.3,
        ratio=ratio,
        slip=0.01,
        leakage_speed=500.0 / 60.0,
        effectiveness=eps,
        coolant_temperature=coolant,
        intake_temperature=298.15,
        ambient_pressure=101_325.0,
        inlet_depression=1500.0,
        cooler_drop=4000.0,
    )
    return np.asarray(blower.operating_point(setup, speed, 0.95).boost) / PSI


def grid_error(knots: int) -> tuple[int, float]:
    """Return the size of a plain grid with so many knots an axis, and its worst error in psi."""
    axes = [np.linspace(low, high, knots) for low, high, _ in BOUNDS]
    values = plain(*np.meshgrid(*axes, indexing="ij"))
    places = spread(BOUNDS, 20_000)
    error = np.abs(RegularGridInterpolator(axes, values)(np.stack(places, axis=1)) - plain(*places))
    return values.size, float(np.nanmax(error))


def main() -> None:
    """Measure and print."""
    page = lookup("boost")
    numbers = sum(table.grid.numbers.size for table in page.compiled)
    error = prove(page)["boost"].error * 1000.0 / PSI
    print(f"this site   {numbers:>7} numbers  {error:.5f} psi at worst, over all its entries")
    for knots in (6, 10, 15):
        size, worst = grid_error(knots)
        print(
            f"plain grid  {size:>7} numbers  {worst:.5f} psi at worst, over 4 entries: "
            f"{size / numbers:.1f} × the numbers, {worst / error:.0f} × the error"
        )


if __name__ == "__main__":
    main()
