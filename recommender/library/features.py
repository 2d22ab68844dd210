"""What the structure of a substance shows, as one bit for each feature.

The build looks at structures once and keeps the bits; claims are read off the bits without a
structure library. Order is part of the store's format: append, never insert.
"""

from __future__ import annotations

from enum import IntFlag, auto


class Feature(IntFlag):
    """One bit for each thing that a structure shows."""

    PARSED = auto()
    ION = auto()
    SALT = auto()
    HYDRATE = auto()
    SEVERAL_PARTS = auto()
    ISOTOPE = auto()
    METAL = auto()
    METAL_CARBON = auto()
    ELEMENT = auto()
    ORGANIC = auto()
    CARBON_HYDROGEN = auto()
    PLAIN_ELEMENTS = auto()
    RADIOACTIVE_ELEMENT = auto()
    HYDROXYL = auto()
    SEVERAL_HYDROXYLS = auto()
    ACID_GROUP = auto()
    AMINE_HYDROGEN = auto()
    AMINE = auto()
    OTHER_NITROGEN = auto()
    NITRO_OR_NITRATE = auto()
    NITRILE = auto()
    CYANIDE_SOURCE = auto()
    ISOCYANATE = auto()
    WATER_SENSITIVE = auto()
    MAKES_ACID = auto()
    PEROXIDE = auto()
    HALOGEN_ON_HETEROATOM = auto()
    UNSATURATED = auto()
    STRAINED_RING = auto()
    ALDEHYDE = auto()
    FLUORINE = auto()
    CHLORINE = auto()
    FREE_FLUORIDE = auto()
    SULFUR = auto()
    FREE_SULFIDE = auto()
    PHOSPHORUS = auto()
    CARBAMATE = auto()
    BLISTER_GROUP = auto()
    HALOGENATED_BIARYL = auto()
    HALOGENATED_AROMATIC = auto()
    ENERGETIC_NITROGEN = auto()
    HEAVY_HALOGEN = auto()
    ALKYNE = auto()
    IONIC_SALT = auto()
    HYDROXIDE_OR_OXIDE = auto()
