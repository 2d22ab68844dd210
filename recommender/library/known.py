"""What the store knows of one substance, in the shape that claims are read off."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from recommender.chemicals.table import PropertyValue
from recommender.library.features import Feature

F = Feature
_ELEMENT = re.compile(r"[A-Z][a-z]?")


@dataclass(frozen=True, slots=True)
class Known:
    """What the store knows of one substance, as claims need it."""

    features: Feature
    formula: str
    molar_mass: float
    form: str
    values: Mapping[str, tuple[PropertyValue, ...]]

    def has(self, some: Feature) -> bool:
        """Whether the structure shows any of these."""
        return bool(self.features & some)

    def lacks(self, some: Feature) -> bool:
        """Whether the structure was read and shows none of these."""
        return Feature.PARSED in self.features and not self.features & some

    @property
    def is_plain(self) -> bool:
        """A single organic molecule of common elements, without metal or charge."""
        needed = F.PARSED | F.ORGANIC | F.CARBON_HYDROGEN | F.PLAIN_ELEMENTS
        wrong = F.SALT | F.ION | F.METAL | F.SEVERAL_PARTS | F.ISOTOPE | F.METAL_CARBON
        return needed in self.features and not self.features & wrong

    @property
    def elements(self) -> frozenset[str]:
        """Symbols of the elements in the formula."""
        return frozenset(_ELEMENT.findall(self.formula))

    def lead(self, name: str) -> PropertyValue | None:
        """Return the leading value of a property."""
        return next((v for v in self.values.get(name, ()) if v.counts), None)

    def ends(self, name: str) -> tuple[float, float] | None:
        """Low and high end of a property, or None."""
        value = self.lead(name)
        if value is None:
            return None
        low = value.value if value.low is None else value.low
        return low, value.value if value.high is None else value.high
