"""What tests of calculations share: the property library, which is slow to load."""

import pytest


@pytest.fixture(scope="session")
def coolprop():
    """Properties of real fluids: an independent reference."""
    from CoolProp import CoolProp

    return CoolProp
