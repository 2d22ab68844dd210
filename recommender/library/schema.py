"""What the store's file holds, and in what order.

One file, written once, replaced as a whole, never changed in place. CAS numbers are kept as
integers without hyphens.
"""

from __future__ import annotations

from collections.abc import Mapping

SCHEMA_VERSION = 1

SCHEMA = """
CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE substance (
    cas INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    formula TEXT NOT NULL,
    molar_mass REAL NOT NULL,
    smiles TEXT NOT NULL,
    inchikey TEXT NOT NULL,
    features INTEGER NOT NULL,
    listed INTEGER NOT NULL,
    names BLOB NOT NULL,
    checksum INTEGER NOT NULL
);
CREATE TABLE name (
    norm TEXT NOT NULL, cas INTEGER NOT NULL, kind INTEGER NOT NULL, PRIMARY KEY (norm, cas)
) WITHOUT ROWID;
CREATE TABLE other_cas (
    other INTEGER NOT NULL, cas INTEGER NOT NULL, PRIMARY KEY (other, cas)
) WITHOUT ROWID;
CREATE TABLE text (id INTEGER PRIMARY KEY, text TEXT NOT NULL);
CREATE TABLE value (
    cas INTEGER NOT NULL,
    property INTEGER NOT NULL,
    n INTEGER NOT NULL,
    value REAL NOT NULL,
    temperature_c REAL,
    low REAL,
    high REAL,
    basis INTEGER NOT NULL,
    package INTEGER NOT NULL,
    note INTEGER NOT NULL,
    counts INTEGER NOT NULL,
    PRIMARY KEY (cas, property, n)
) WITHOUT ROWID;
CREATE TABLE disagreement (
    cas INTEGER NOT NULL,
    property TEXT NOT NULL,
    what TEXT NOT NULL,
    action TEXT NOT NULL,
    size REAL NOT NULL
);
"""
INDEXES = """
CREATE INDEX substance_formula ON substance (formula);
CREATE INDEX substance_inchikey ON substance (inchikey);
CREATE INDEX disagreement_cas ON disagreement (cas);
"""

UNITS: Mapping[str, str] = {
    "molar_mass": "g/mol",
    "melting_point": "degC",
    "triple_point": "degC",
    "boiling_point": "degC",
    "critical_temperature": "degC",
    "critical_pressure": "Pa",
    "density": "kg/m3",
    "viscosity": "cP",
    "vapor_pressure": "Pa",
    "water_solubility": "g/L",
    "heat_of_vaporization": "J/mol",
    "heat_of_vaporization_at_boiling": "J/mol",
    "log_kow": "1",
    "ln_henry": "ln Pa",
    "flash_point": "degC",
    "lower_flammable_limit": "%",
    "upper_flammable_limit": "%",
    "twa_ppm": "ppm",
    "twa_mg_m3": "mg/m3",
    "stel_ppm": "ppm",
    "stel_mg_m3": "mg/m3",
    "ceiling_ppm": "ppm",
    "ceiling_mg_m3": "mg/m3",
    "skin_listed": "1",
    "iarc_group": "1",
    "ntp_listing": "1",
}

PROPERTIES = tuple(UNITS)
BASES = ("measured", "correlated", "estimated")
PACKAGES = ("chemicals", "thermo", "rdkit")
# Kinds of name, best first.
COMMON_NAME, SYSTEMATIC_NAME, SYNONYM, CODE = range(4)
# Bits of substance.listed: tables of hazards that name it.
LISTED_EXPOSURE, LISTED_FLAMMABLE, LISTED_CARCINOGEN = 1, 2, 4
