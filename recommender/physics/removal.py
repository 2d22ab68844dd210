"""What repeated washing leaves, and how much removal is asked for.

A screening model to put stations in order, not a promise of cleanliness: one removal for every
station, and a floor that washing does not reach. The scatter of one station is about 0.6 in the
decimal logarithm, and later stations meet the stubborn share, so they are not independent. The
answer is checked with pH paper, a meter or a wipe.
"""

from __future__ import annotations

import math
from typing import Final

from recommender.physics.ranges import FRACTION, Range

MOST_STATIONS: Final = 10_000
"""Beyond this many stations a target counts as out of reach."""

_STATIONS: Final = Range(0, MOST_STATIONS)
_LOG_REDUCTION: Final = Range(0.0, 30.0)
_LD50_KG_KG: Final = Range(0.0, 1.0, low_open=True)
_BODY_MASS_KG: Final = Range(1.0, 300.0)
_UNCERTAINTY_FACTOR: Final = Range(1.0, 1.0e6)
_CONTACT_AREA_M2: Final = Range(1.0e-4, 10.0)
_TRANSFER: Final = Range(0.0, 1.0, low_open=True)
_LOAD_KG_M2: Final = Range(0.0, 100.0)
_ROUNDING: Final = 1.0e-9


def residual_fraction(stations: int, removal: float, floor: float) -> float:
    """Find the share of the contamination left after a number of wash stations.

    residual = f + (1 - f)(1 - r)^n.

    Args:
        stations: n, 0 to 10 000.
        removal: r, share of the reachable contamination one station removes, 0 to 1.
        floor: f, share that washing does not reach (soaked in, in seams), 0 to 1.

    Returns:
        Share left, from 1 (no station) down to the floor.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: geometric dilution with a floor (derived); that a floor exists: a laundry study of
    methyl parathion on denim (read) found residue after ten launderings.

    Known defects: equal, independent stations. No data exist for brushing an impermeable suit.
    """
    n = _STATIONS.check("stations", stations)
    r = FRACTION.check("removal", removal)
    f = FRACTION.check("floor", floor)
    return f + (1.0 - f) * math.pow(1.0 - r, n)


def stations_to_reach(required_log_reduction: float, removal: float, floor: float) -> int | None:
    """Find the fewest stations whose residual meets a required reduction.

    Solves f + (1 - f)(1 - r)^n = 10^-Req for n and rounds up.

    Args:
        required_log_reduction: Req, decimal logarithm of start over target, 0 to 30.
        removal: r per station, 0 to 1.
        floor: f that washing does not reach, 0 to 1.

    Returns:
        Number of stations (0 when nothing is required), or None when no number reaches it: the
        floor is too high or nothing is removed. Then change method, isolate or discard.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: inverse of `residual_fraction` (derived). With f = 0 it is the familiar
    n = ceil(Req/-log10(1 - r)); with a floor that short form asks for too few stations.

    Known defects: those of `residual_fraction`; one part in 1e9 of a station is forgiven.
    """
    required = _LOG_REDUCTION.check("required_log_reduction", required_log_reduction)
    r = FRACTION.check("removal", removal)
    f = FRACTION.check("floor", floor)
    if required == 0.0:
        return 0
    target = math.pow(10.0, -required)
    if r == 1.0:
        return 1 if f <= target else None
    if r == 0.0 or f >= target:
        return None
    exact = math.log((target - f) / (1.0 - f)) / math.log1p(-r)
    return max(1, math.ceil(exact - _ROUNDING)) if exact <= MOST_STATIONS else None


def allowed_residue_kg_m2(
    *,
    dermal_ld50_kg_kg: float,
    body_mass_kg: float,
    uncertainty_factor: float,
    contact_area_m2: float,
    transfer_fraction: float,
) -> float:
    """Find a screening target for the residue on a suit from a dermal LD50.

    Lt = LD50 BW/(UF A x).

    Args:
        dermal_ld50_kg_kg: LD50 through skin, kg per kg body mass (1 mg/kg is 1e-6), above 0 to 1.
        body_mass_kg: BW, 1 to 300 kg.
        uncertainty_factor: UF between a lethal and a tolerable dose, 1 to 1e6.
        contact_area_m2: A of suit that the wearer touches while undressing, 1e-4 to 10 m2.
        transfer_fraction: x of the residue that goes over to skin, above 0 to 1.

    Returns:
        Residue in kg/m2 (1 mg/cm2 is 0.01 kg/m2).

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: none. A screening CONVENTION of this project, judgement, not a published limit.

    Known defects: says nothing for corrosives, vesicants, sensitizers or carcinogens, which harm
    below any lethal dose; do not call it for them.
    """
    dose = _LD50_KG_KG.check("dermal_ld50_kg_kg", dermal_ld50_kg_kg) * _BODY_MASS_KG.check(
        "body_mass_kg", body_mass_kg
    )
    factor = _UNCERTAINTY_FACTOR.check("uncertainty_factor", uncertainty_factor)
    area = _CONTACT_AREA_M2.check("contact_area_m2", contact_area_m2)
    transfer = _TRANSFER.check("transfer_fraction", transfer_fraction)
    return dose / (factor * area * transfer)


def required_log_reduction(
    *,
    load_kg_m2: float,
    dermal_ld50_kg_kg: float,
    body_mass_kg: float,
    uncertainty_factor: float,
    contact_area_m2: float,
    transfer_fraction: float,
) -> float:
    """Find how much a load must be reduced to meet the screening target.

    Req = log10(L0/Lt), not below 0, with Lt from `allowed_residue_kg_m2`.

    Args:
        load_kg_m2: L0, 0 to 100 kg/m2 (10 mg/cm2 is 0.1 kg/m2).
        dermal_ld50_kg_kg: LD50 through skin, above 0 to 1 kg per kg body mass.
        body_mass_kg: BW, 1 to 300 kg.
        uncertainty_factor: UF, 1 to 1e6.
        contact_area_m2: A, 1e-4 to 10 m2.
        transfer_fraction: x, above 0 to 1.

    Returns:
        Decimal logarithm of the reduction; 0 when the load already meets the target.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: none. A screening CONVENTION of this project, judgement.
    Known defects: see `allowed_residue_kg_m2`.
    """
    load = _LOAD_KG_M2.check("load_kg_m2", load_kg_m2)
    allowed = allowed_residue_kg_m2(
        dermal_ld50_kg_kg=dermal_ld50_kg_kg,
        body_mass_kg=body_mass_kg,
        uncertainty_factor=uncertainty_factor,
        contact_area_m2=contact_area_m2,
        transfer_fraction=transfer_fraction,
    )
    return math.log10(load / allowed) if load > allowed else 0.0
