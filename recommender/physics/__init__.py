"""Pure equations on SI floats, each with its source, valid range and known defects.

Nothing here knows a chemical, a scene or a plan. Arguments and results are plain floats whose
names end in their unit (kilogram, meter, second, kelvin, pascal, joule, mole). A number outside
an equation's range raises `recommender.errors.PhysicsRangeError`; nothing is clipped silently.

Planning numbers (share of the wind felt at the body, uncertainty factors, removal per station)
are judgement and never live here: they are arguments.

Modules:
    constants: physical constants with their sources.
    ranges: the one check every argument goes through.
    vapor: vapor pressure, saturated vapor, how heavy it is.
    diffusion: how fast a vapor spreads through air.
    mass_transfer: how fast air carries vapor off a wet surface.
    evaporation: flux, film thickness, residence time, cooling by evaporation.
    removal: what repeated washing leaves.
    persistence_index: a historical index, for display only.
"""
