from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pint
import pytest


@pytest.fixture(scope="session")
def ureg() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@pytest.fixture(scope="session")
def fraction_ureg() -> pint.UnitRegistry[Fraction]:
    return pint.UnitRegistry(non_int_type=Fraction)


@pytest.fixture(scope="session")
def decimal_ureg() -> pint.UnitRegistry[Decimal]:
    return pint.UnitRegistry(non_int_type=Decimal)


@pytest.fixture(scope="session")
def array_ureg() -> pint.UnitRegistry[float]:
    """A host's registry that wraps every number in an array."""
    return pint.UnitRegistry(force_ndarray_like=True)


@pytest.fixture(scope="session")
def odd_ureg() -> pint.UnitRegistry[float]:
    """A host's registry with an inch of its own."""
    registry: pint.UnitRegistry[float] = pint.UnitRegistry(on_redefinition="ignore")
    registry.define("inch = 26 * millimeter = in")
    return registry
