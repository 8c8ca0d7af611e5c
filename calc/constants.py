"""Physical constants and reference states, each with its source and how exact it is.

Only constants that more than one module needs live here. *Exact* means exact by definition,
*conventional* means fixed by a standard as a round reference.
Air is treated as a perfect gas with constant heat capacity everywhere in this package; between
250 K and 500 K the heat capacity of real air stays within 2.5 % of the value used.
"""

from __future__ import annotations

from typing import Final

# Standard acceleration of free fall, m/s². Exact: 3rd CGPM, 1901; ISO 80000-3.
G0: Final = 9.80665

# Specific gas constant of dry air, J/(kg·K). Conventional: ISO 2533:1975.
R_AIR: Final = 287.05287

# Ratio of the specific heats of air, 1. Conventional: ISO 2533:1975 (real dry air at
# 25 °C and 1 bar: 1.4018).
GAMMA_AIR: Final = 1.4

# Specific heat of air at constant pressure, J/(kg·K). Follows from the two above (1004.7).
CP_AIR: Final = GAMMA_AIR / (GAMMA_AIR - 1.0) * R_AIR

# Standard atmosphere at sea level, Pa and K. Conventional: ISO 2533:1975.
P_STANDARD: Final = 101_325.0
T_STANDARD: Final = 288.15

# Temperature gradient of the standard troposphere, K/m. Conventional: ISO 2533:1975.
LAPSE_RATE: Final = 0.0065
