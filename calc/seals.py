"""O-ring in its groove: stretch, section left by it, squeeze, gland fill, swell.

Rubber keeps its volume and gives way in shape, so a ring that is stretched gets thinner, and one
that swells or is heated needs room that the groove must have. Squeeze is what seals at rest; fill
is what keeps the ring from bursting the joint or cutting itself. Both come with the worst case of
the tolerances: each part at its worst limit at once, which is how gland tables are drawn up.

Left out: the flattening that a stretched section takes on, friction, set, extrusion through the
clearance under pressure, and the groove's corner radii and sloping sides (at most 5°, MIL-G-5514G
3.2.6), which take and give a little room. The maker of the part gives the ring and the rubber; a
figure here only tells a right ring from a wrong one.
"""

from __future__ import annotations

import numpy as np

from calc.domain import Real, require

_SECTION = (5e-4, 0.012)
_SECTION_TOLERANCE = (0.0, 4e-4)
_DIAMETER = (5e-4, 1.0)
_DEPTH = (3e-4, 0.015)
_WIDTH = (3e-4, 0.03)
_GROOVE_TOLERANCE = (0.0, 5e-4)
_STRETCH = (-0.1, 0.3)
_SWELL = (-0.3, 1.5)
# Newton doubles the good digits each time; from the guess of a straight cord six steps are enough.
_NEWTON_STEPS = 6


def stretch(inside_diameter: Real, seat_diameter: Real) -> Real:
    """Stretch of a ring's inside diameter on the diameter that it sits on.

    Args:
        inside_diameter [m]: inside diameter of the free ring, 0.0005 to 1.
        seat_diameter [m]: diameter that the ring sits on, such as the bottom of a groove in a
            spigot, 0.0005 to 1.

    Returns:
        [1]: stretch; negative where the ring is pressed into a smaller circle.

    Raises:
        DomainError: an argument outside its range.

    Source: definition, as in ISO 3601-2.

    >>> round(stretch(0.0200, 0.0204), 6)
    0.02
    """
    require("inside_diameter", inside_diameter, *_DIAMETER)
    require("seat_diameter", seat_diameter, *_DIAMETER)
    return seat_diameter / inside_diameter - 1


def seat_for(inside_diameter: Real, ring_stretch: Real) -> Real:
    """Diameter on which a ring sits with a stretch.

    Args:
        inside_diameter [m]: inside diameter of the free ring, 0.0005 to 1.
        ring_stretch [1]: stretch of the inside diameter, -0.1 to 0.3.

    Returns:
        [m]: diameter of the seat.

    Raises:
        DomainError: an argument outside its range.

    Source: inverse of `stretch`.

    >>> round(seat_for(0.0200, 0.02), 6)
    0.0204
    """
    require("inside_diameter", inside_diameter, *_DIAMETER)
    require("ring_stretch", ring_stretch, *_STRETCH)
    return inside_diameter * (1 + ring_stretch)


def stretched_section(cross_section: Real, inside_diameter: Real, ring_stretch: Real) -> Real:
    """Thickness left of a ring's section when the ring is stretched, its volume unchanged.

    The section is taken as round still, so this is its mean thickness. In truth it also flattens on
    its seat: the measured curve that seal handbooks print (from memory) takes 1 % more off the
    height at 3 to 5 % stretch, and nearly 2 % more at 25 %. The squeeze of a stretched ring is
    therefore less than worked out from here: by nearly a point at usual stretch, by more beyond.

    Args:
        cross_section [m]: thickness of the free ring, 0.0005 to 0.012.
        inside_diameter [m]: inside diameter of the free ring, 0.0005 to 1.
        ring_stretch [1]: stretch of the inside diameter, -0.1 to 0.3.

    Returns:
        [m]: thickness of the stretched ring.

    Raises:
        DomainError: an argument outside its range.

    Source: volume of a torus, π²/4·W²·(d + W), the same before and after.

    >>> round(float(stretched_section(0.00353, 0.01864, 0.02)), 7)
    0.0035028
    """
    require("cross_section", cross_section, *_SECTION)
    require("inside_diameter", inside_diameter, *_DIAMETER)
    require("ring_stretch", ring_stretch, *_STRETCH)
    slenderness = cross_section / inside_diameter
    length = 1 + ring_stretch
    share = 1 / np.sqrt(length)
    for _ in range(_NEWTON_STEPS):
        excess = share**2 * (length + slenderness * share) - (1 + slenderness)
        share = share - excess / (share * (2 * length + 3 * slenderness * share))
    thickness: Real = cross_section * share
    return thickness


def radial_gland_depth(bore: Real, groove_diameter: Real) -> Real:
    """Room across a ring between the bottom of a groove in a spigot and the bore around it.

    This is the depth with both parts on one axis. Parts that sit to one side take half of their
    diametral clearance from one flank and give it to the other: count it as a depth tolerance.

    Args:
        bore [m]: diameter of the bore, 0.0005 to 1, not less than the groove.
        groove_diameter [m]: diameter at the bottom of the groove, 0.0005 to 1.

    Returns:
        [m]: gland depth.

    Raises:
        DomainError: an argument outside its range.

    Source: ISO 3601-2, housing for piston seals.

    >>> round(radial_gland_depth(0.0300, 0.0244), 6)
    0.0028
    """
    require("bore", bore, *_DIAMETER)
    require("groove_diameter", groove_diameter, *_DIAMETER)
    depth = (bore - groove_diameter) / 2
    require("gland depth from bore and groove_diameter", depth, *_DEPTH)
    return depth


def squeeze(cross_section: Real, gland_depth: Real) -> Real:
    """Share of a ring's thickness that the gland takes away.

    Args:
        cross_section [m]: thickness of the ring as it sits, 0.0005 to 0.012.
        gland_depth [m]: room across the ring with the joint closed, 0.0003 to 0.015.

    Returns:
        [1]: squeeze; negative where the ring touches one side only, and does not seal.

    Raises:
        DomainError: an argument outside its range.

    Source: MIL-G-5514G, 3.6.2: S = (W − depth)/W.

    >>> round(squeeze(0.0035306, 0.0028702), 4)
    0.1871
    """
    require("cross_section", cross_section, *_SECTION)
    require("gland_depth", gland_depth, *_DEPTH)
    return 1 - gland_depth / cross_section


def _require_with_tolerance(
    cross_section: Real, section_tolerance: Real, gland_depth: Real, depth_tolerance: Real
) -> None:
    """Check what every worst case shares."""
    require("cross_section", cross_section, *_SECTION)
    require("section_tolerance", section_tolerance, *_SECTION_TOLERANCE)
    require("gland_depth", gland_depth, *_DEPTH)
    require("depth_tolerance", depth_tolerance, *_GROOVE_TOLERANCE)


def squeeze_least(
    cross_section: Real, section_tolerance: Real, gland_depth: Real, depth_tolerance: Real
) -> Real:
    """Squeeze with the thinnest ring in the deepest gland.

    Args:
        cross_section [m]: nominal thickness of the ring as it sits, 0.0005 to 0.012, also with its
            tolerance.
        section_tolerance [m]: tolerance of the thickness either way, 0 to 0.0004.
        gland_depth [m]: middle of the gland depth, 0.0003 to 0.015, also with its tolerance.
        depth_tolerance [m]: tolerance of the depth either way, 0 to 0.0005.

    Returns:
        [1]: least squeeze; negative where some rings will not seal.

    Raises:
        DomainError: an argument outside its range.

    Source: worst case of `squeeze`.

    >>> round(squeeze_least(0.00353, 0.00010, 0.00287, 0.00008), 4)
    0.1399
    """
    _require_with_tolerance(cross_section, section_tolerance, gland_depth, depth_tolerance)
    return squeeze(cross_section - section_tolerance, gland_depth + depth_tolerance)


def squeeze_most(
    cross_section: Real, section_tolerance: Real, gland_depth: Real, depth_tolerance: Real
) -> Real:
    """Squeeze with the thickest ring in the shallowest gland.

    Args:
        cross_section [m]: nominal thickness of the ring as it sits, 0.0005 to 0.012, also with its
            tolerance.
        section_tolerance [m]: tolerance of the thickness either way, 0 to 0.0004.
        gland_depth [m]: middle of the gland depth, 0.0003 to 0.015, also with its tolerance.
        depth_tolerance [m]: tolerance of the depth either way, 0 to 0.0005.

    Returns:
        [1]: most squeeze.

    Raises:
        DomainError: an argument outside its range.

    Source: worst case of `squeeze`.

    >>> round(squeeze_most(0.00353, 0.00010, 0.00287, 0.00008), 4)
    0.2314
    """
    _require_with_tolerance(cross_section, section_tolerance, gland_depth, depth_tolerance)
    return squeeze(cross_section + section_tolerance, gland_depth - depth_tolerance)


def gland_depth_for(cross_section: Real, wanted_squeeze: Real) -> Real:
    """Gland depth that gives a squeeze.

    Args:
        cross_section [m]: thickness of the ring as it sits, 0.0005 to 0.012.
        wanted_squeeze [1]: squeeze, 0 to 0.4.

    Returns:
        [m]: gland depth.

    Raises:
        DomainError: an argument outside its range.

    Source: inverse of `squeeze`.

    >>> round(gland_depth_for(0.00353, 0.20), 6)
    0.002824
    """
    require("cross_section", cross_section, *_SECTION)
    require("wanted_squeeze", wanted_squeeze, 0.0, 0.4)
    return cross_section * (1 - wanted_squeeze)


def section_area(cross_section: Real) -> Real:
    """Area of a ring's round section.

    Args:
        cross_section [m]: thickness of the ring, 0.0005 to 0.012.

    Returns:
        [m²]: area.

    Raises:
        DomainError: cross_section outside its range.

    Source: area of a circle.

    >>> round(section_area(0.00178) * 1e6, 4)
    2.4885
    """
    require("cross_section", cross_section, *_SECTION)
    return np.pi / 4 * cross_section**2


def gland_fill(
    cross_section: Real, groove_width: Real, gland_depth: Real, volume_swell: Real
) -> Real:
    """Share of the gland's section that the ring fills.

    Areas are used in place of volumes: both go round nearly the same circle. By volumes a ring of
    20 mm fills some 3 % more than by areas, a larger ring less. Square sides are assumed; sloping
    ones give more room.

    Args:
        cross_section [m]: thickness of the ring as it sits, 0.0005 to 0.012.
        groove_width [m]: width of the groove, 0.0003 to 0.03.
        gland_depth [m]: room across the ring with the joint closed, 0.0003 to 0.015.
        volume_swell [1]: growth of the rubber's volume in service, -0.3 to 1.5.

    Returns:
        [1]: fill; above 1 the ring has no room, and lifts or breaks the parts.

    Raises:
        DomainError: an argument outside its range.

    Source: definition, as in gland-design texts.

    >>> round(gland_fill(0.00353, 0.00495, 0.00287, 0.05), 4)
    0.7233
    """
    require("groove_width", groove_width, *_WIDTH)
    require("gland_depth", gland_depth, *_DEPTH)
    require("volume_swell", volume_swell, *_SWELL)
    return section_area(cross_section) * (1 + volume_swell) / (groove_width * gland_depth)


def gland_fill_least(
    cross_section: Real,
    section_tolerance: Real,
    groove_width: Real,
    width_tolerance: Real,
    gland_depth: Real,
    depth_tolerance: Real,
    volume_swell: Real,
) -> Real:
    """Fill with the thinnest ring in the widest and deepest gland.

    Args:
        cross_section [m]: nominal thickness of the ring as it sits, 0.0005 to 0.012, also with its
            tolerance.
        section_tolerance [m]: tolerance of the thickness either way, 0 to 0.0004.
        groove_width [m]: middle of the groove width, 0.0003 to 0.03, also with its tolerance.
        width_tolerance [m]: tolerance of the width either way, 0 to 0.0005.
        gland_depth [m]: middle of the gland depth, 0.0003 to 0.015, also with its tolerance.
        depth_tolerance [m]: tolerance of the depth either way, 0 to 0.0005.
        volume_swell [1]: growth of the rubber's volume in service, -0.3 to 1.5.

    Returns:
        [1]: least fill.

    Raises:
        DomainError: an argument outside its range.

    Source: worst case of `gland_fill`.

    >>> round(gland_fill_least(0.00353, 0.00010, 0.00495, 0.00013, 0.00287, 0.00008, 0.0), 4)
    0.6166
    """
    _require_with_tolerance(cross_section, section_tolerance, gland_depth, depth_tolerance)
    require("groove_width", groove_width, *_WIDTH)
    require("width_tolerance", width_tolerance, *_GROOVE_TOLERANCE)
    return gland_fill(
        cross_section - section_tolerance,
        groove_width + width_tolerance,
        gland_depth + depth_tolerance,
        volume_swell,
    )


def gland_fill_most(
    cross_section: Real,
    section_tolerance: Real,
    groove_width: Real,
    width_tolerance: Real,
    gland_depth: Real,
    depth_tolerance: Real,
    volume_swell: Real,
) -> Real:
    """Fill with the thickest ring in the narrowest and shallowest gland.

    Args:
        cross_section [m]: nominal thickness of the ring as it sits, 0.0005 to 0.012, also with its
            tolerance.
        section_tolerance [m]: tolerance of the thickness either way, 0 to 0.0004.
        groove_width [m]: middle of the groove width, 0.0003 to 0.03, also with its tolerance.
        width_tolerance [m]: tolerance of the width either way, 0 to 0.0005.
        gland_depth [m]: middle of the gland depth, 0.0003 to 0.015, also with its tolerance.
        depth_tolerance [m]: tolerance of the depth either way, 0 to 0.0005.
        volume_swell [1]: growth of the rubber's volume in service, -0.3 to 1.5.

    Returns:
        [1]: most fill.

    Raises:
        DomainError: an argument outside its range.

    Source: worst case of `gland_fill`.

    >>> round(gland_fill_most(0.00353, 0.00010, 0.00495, 0.00013, 0.00287, 0.00008, 0.0), 4)
    0.7696
    """
    _require_with_tolerance(cross_section, section_tolerance, gland_depth, depth_tolerance)
    require("groove_width", groove_width, *_WIDTH)
    require("width_tolerance", width_tolerance, *_GROOVE_TOLERANCE)
    return gland_fill(
        cross_section + section_tolerance,
        groove_width - width_tolerance,
        gland_depth - depth_tolerance,
        volume_swell,
    )


def groove_width_for(
    cross_section: Real, gland_depth: Real, volume_swell: Real, wanted_fill: Real
) -> Real:
    """Groove width that leaves a fill.

    Args:
        cross_section [m]: thickness of the ring as it sits, 0.0005 to 0.012.
        gland_depth [m]: room across the ring with the joint closed, 0.0003 to 0.015.
        volume_swell [1]: growth of the rubber's volume in service, -0.3 to 1.5.
        wanted_fill [1]: fill, 0.3 to 1.

    Returns:
        [m]: groove width.

    Raises:
        DomainError: an argument outside its range.

    Source: inverse of `gland_fill`.

    >>> round(groove_width_for(0.00353, 0.00287, 0.0, 0.75), 6)
    0.004547
    """
    require("gland_depth", gland_depth, *_DEPTH)
    require("volume_swell", volume_swell, *_SWELL)
    require("wanted_fill", wanted_fill, 0.3, 1.0)
    return section_area(cross_section) * (1 + volume_swell) / (wanted_fill * gland_depth)
