"""Constants of substances, with every table's value kept, out of the installed packages."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from recommender.library.build_read import (
    KELVIN,
    Tabulated,
    cas_number,
    number,
    read_json,
    read_rows,
)

# property -> CAS number -> values. Properties are in the units of schema.UNITS.
Tables = Mapping[str, Mapping[int, list[Tabulated]]]
_Convert = Callable[[float, float | None], float | None]


def _kelvin(value: float, _: float | None) -> float:
    return value - KELVIN


def _same(value: float, _: float | None) -> float:
    return value


def _percent(value: float, _: float | None) -> float:
    return 100.0 * value


def _density_from_volume(value: float, molar_mass: float | None) -> float | None:
    """Molar volume in m3/mol to density in kg/m3."""
    return molar_mass / 1000.0 / value if molar_mass and value > 0 else None


@dataclass(frozen=True, slots=True)
class _Table:
    """One table and the columns that are read from it."""

    path: str
    source: str
    family: str
    columns: Mapping[str, tuple[str, _Convert]]


_MELTS, _BOILS = ("melting_point", _kelvin), ("boiling_point", _kelvin)
_FLASH = ("flash_point", _kelvin)
_LOWER, _UPPER = ("lower_flammable_limit", _percent), ("upper_flammable_limit", _percent)
_HEAT_298 = ("heat_of_vaporization", _same)
_KOW = ("log_kow", _same)
_CRITICAL = {
    "Tc": ("critical_temperature", _kelvin),
    "Pc": ("critical_pressure", _same),
}
# Wikidata's melting points follow the Open Notebook collection to the decimal: one voice.
_TABLES = (
    _Table(
        "Misc/Physical Constants of Organic Compounds.csv",
        "CRC organic",
        "crc",
        {"Tm": _MELTS, "Tb": _BOILS, "rho": ("density", _same)},
    ),
    _Table(
        "Misc/Physical Constants of Inorganic Compounds.csv",
        "CRC inorganic",
        "crc",
        {"Tm": _MELTS, "Tb": _BOILS, "rho": ("density", _same)},
    ),
    _Table(
        "Phase Change/CRC Handbook Heat of Vaporization.tsv",
        "CRC vaporization",
        "crc",
        {
            "Tb": _BOILS,
            "Hvap298": _HEAT_298,
            "HvapTb": ("heat_of_vaporization_at_boiling", _same),
        },
    ),
    _Table(
        "Misc/heos_constants.tsv",
        "reference equations",
        "reference",
        {"Tb": _BOILS, "Tt": ("triple_point", _kelvin), **_CRITICAL},
    ),
    _Table(
        "Misc/webbook_constants.tsv",
        "WebBook",
        "webbook",
        {
            "Tm": _MELTS,
            "Tt": ("triple_point", _kelvin),
            "Tb": _BOILS,
            "Hvap": _HEAT_298,
            **_CRITICAL,
        },
    ),
    _Table(
        "Misc/common_chemistry_data.tsv",
        "Common Chemistry",
        "common-chemistry",
        {
            "Tm": _MELTS,
            "Tb": _BOILS,
            "Vml": ("density", _density_from_volume),
            "Vms": ("density", _density_from_volume),
        },
    ),
    _Table(
        "Misc/wikidata_properties.tsv",
        "Wikidata",
        "wikidata",
        {
            "Tm": _MELTS,
            "Tb": _BOILS,
            "T_flash": _FLASH,
            "LFL": _LOWER,
            "UFL": _UPPER,
            "logP": _KOW,
        },
    ),
    _Table(
        "Phase Change/OpenNotebook Melting Points.tsv", "Open Notebook", "wikidata", {"Tm": _MELTS}
    ),
    _Table("Phase Change/Yaws Boiling Points.tsv", "Yaws", "yaws", {"Tb": _BOILS}),
    _Table(
        "Phase Change/Ghazerati Appendix Vaporization Enthalpy.tsv",
        "Gharagheizi",
        "gharagheizi",
        {"Hvap298": _HEAT_298},
    ),
    _Table(
        "Safety/IS IEC 60079-20-1 2010.tsv",
        "IEC 60079-20-1",
        "iec",
        {"T_flash": _FLASH, "LFL": _LOWER, "UFL": _UPPER},
    ),
    _Table(
        "Safety/NFPA 497 2008.tsv",
        "NFPA 497",
        "nfpa",
        {"T_flash": _FLASH, "LFL": _LOWER, "UFL": _UPPER},
    ),
    _Table("Safety/DIPPR T_flash Serat.csv", "DIPPR flash points", "dippr", {"T_flash": _FLASH}),
    _Table("Environment/CRC logP table.tsv", "CRC partition", "crc", {"logP": _KOW}),
    _Table("Environment/Syrres logP data.csv.gz", "Syracuse partition", "syracuse", {"logP": _KOW}),
    *(
        _Table(f"Critical Properties/{file}.tsv", source, family, _CRITICAL)
        for file, source, family in (
            ("CRCCriticalOrganics", "CRC critical", "crc"),
            ("IUPACOrganicCriticalProps", "IUPAC critical", "iupac"),
            ("Mathews1972InorganicCriticalProps", "Mathews critical", "mathews"),
            ("Appendix to PSRK Revision 4", "PSRK critical", "psrk"),
            ("DIPPRPinaMartines", "DIPPR critical", "dippr"),
        )
    ),
)
_EXPOSURE_LIMITS = "Safety/Ontario Exposure Limits.json"
_EXPOSURE_COLUMNS = {
    "TWA (ppm)": "twa_ppm",
    "TWA (mg/m^3)": "twa_mg_m3",
    "STEL (ppm)": "stel_ppm",
    "STEL (mg/m^3)": "stel_mg_m3",
    "Ceiling (ppm)": "ceiling_ppm",
    "Ceiling (mg/m^3)": "ceiling_mg_m3",
}
_ONTARIO = "Ontario exposure limits"


def read_constants(molar_masses: Mapping[int, float]) -> Tables:
    """Read every value of every constant, converted, with its table's name.

    Args:
        molar_masses: g/mol by CAS number, to turn molar volumes into densities.
    """
    found: dict[str, dict[int, list[Tabulated]]] = defaultdict(lambda: defaultdict(list))
    for table in _TABLES:
        for row in read_rows("chemicals", table.path, tuple(table.columns)):
            cas = cas_number(row["CAS"])
            if cas is None:
                continue
            for column, (name, convert) in table.columns.items():
                raw = number(row[column])
                value = None if raw is None else convert(raw, molar_masses.get(cas))
                if value is not None:
                    found[name][cas].append(Tabulated(table.source, table.family, value))
    _read_exposure_limits(found)
    _read_henry_constants(found)
    return found


def _read_exposure_limits(found: dict[str, dict[int, list[Tabulated]]]) -> None:
    limits: dict[str, dict[str, Any]] = read_json("chemicals", _EXPOSURE_LIMITS)
    for text, row in limits.items():
        cas = cas_number(text)
        if cas is None:
            continue
        for column, name in _EXPOSURE_COLUMNS.items():
            value = number(row.get(column))
            if value is not None:
                found[name][cas].append(Tabulated(_ONTARIO, "ontario", value))
        skin = 1.0 if row.get("Skin") else 0.0
        found["skin_listed"][cas].append(Tabulated(_ONTARIO, "ontario", skin))


def _read_henry_constants(found: dict[str, dict[int, list[Tabulated]]]) -> None:
    """Henry constants in water at 25 C: natural logarithm of pascal for each mole fraction."""
    data = read_json("thermo", "Interaction Parameters/Sander_henry_const.json")["data"]
    for pair, coefficients in data.items():
        solute, _, solvent = pair.partition(" ")
        cas = cas_number(solute)
        value = number(coefficients.get("A"))
        if cas is not None and solvent == "7732-18-5" and value is not None:
            found["ln_henry"][cas].append(
                Tabulated("Sander compilation", "sander", value, 25.0, "thermo")
            )


def read_carcinogens() -> Mapping[int, tuple[int | None, int | None]]:
    """Return (IARC group, NTP listing) by CAS number; IARC groups are 1, 11 (2A), 12 (2B), 3."""
    groups: dict[int, int] = {}
    listings: dict[int, int] = {}
    iarc = "Safety/IARC Carcinogen Database.tsv"
    ntp = "Safety/National Toxicology Program Carcinogens.tsv"
    for path, column, into in ((iarc, "group", groups), (ntp, "Listing", listings)):
        for row in read_rows("chemicals", path, (column,)):
            cas, value = cas_number(row["CAS"]), number(row[column])
            if cas is not None and value is not None:
                into[cas] = int(value)
    return {cas: (groups.get(cas), listings.get(cas)) for cas in {*groups, *listings}}


def read_joback_boiling_points() -> Mapping[int, float]:
    """Group-contribution boiling points in C. Never used as values: only to doubt others."""
    found = {}
    for row in read_rows("chemicals", "Misc/joback_predictions.tsv", ("Tb",)):
        cas, value = cas_number(row["CAS"]), number(row["Tb"])
        if cas is not None and value is not None:
            found[cas] = value - KELVIN
    return found
