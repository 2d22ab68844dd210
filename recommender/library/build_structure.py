"""Look at structures once, with RDKit, and keep what they show as bits."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from recommender.library.features import Feature

# Hydrogen, carbon and what the bulk of organic chemistry adds. Rules that clear a substance by
# its structure stop at these: beyond them lie the surprises.
_PLAIN = frozenset({"H", "C", "N", "O", "F", "Cl", "Br", "I", "S"})
_NONMETALS = frozenset(
    [
        "H",
        "He",
        "B",
        "C",
        "N",
        "O",
        "F",
        "Ne",
        "Si",
        "P",
        "S",
        "Cl",
        "Ar",
        "As",
        "Se",
        "Br",
        "Kr",
        "Te",
        "I",
        "Xe",
        "At",
        "Rn",
        "Ge",
        "Sb",
    ]
)
# Elements without a stable isotope that anybody carries (bismuth counts as stable).
_RADIOACTIVE = frozenset(
    [
        "Tc",
        "Pm",
        "Po",
        "At",
        "Rn",
        "Fr",
        "Ra",
        "Ac",
        "Th",
        "Pa",
        "U",
        "Np",
        "Pu",
        "Am",
        "Cm",
        "Bk",
        "Cf",
        "Es",
        "Fm",
        "Md",
        "No",
        "Lr",
    ]
)
# Metals whose compounds with anything written as an anion are salts indeed. Structures of other
# metal compounds are often written as ions although they are molecules: titanium tetrachloride,
# nickel carbonyl, diethylzinc.
_SALT_METALS = frozenset(["Li", "Na", "K", "Rb", "Cs", "Mg", "Ca", "Sr", "Ba"])
_HYDROGEN_HALIDES = frozenset({"Cl", "Br", "I", "F", "[H]Cl", "[H]Br"})

# SMARTS by feature. A feature is set when any of its patterns is found.
_PATTERNS: Mapping[Feature, tuple[str, ...]] = {
    Feature.CARBON_HYDROGEN: ("[#6;!H0]",),
    Feature.HYDROXYL: ("[OX2H][#6,#14]",),
    Feature.ACID_GROUP: (
        "[CX3](=O)[OX2H]",
        "[SX3,SX4,PX3,PX4,SeX3,SeX4,AsX4](=O)[OX2H]",
        "[NX3](=O)[OX2H]",
        "[N+]([O-])(=O)[OX2H]",
        "[F,Cl,Br,I;H1]",
        "[OX2H][Cl,Br,I]",
        "[BX3][OX2H]",
        "[OX2H]c1c([N+](=O)[O-])cc([N+](=O)[O-])cc1",
        "[OX2H]O[CX3]=O",
        "[SX2H]C(=O)",
        "[SX2H]C(=S)",
    ),
    Feature.AMINE_HYDROGEN: ("[NX3;H1,H2;!$(N[C,S,P]=[O,S,N])]",),
    Feature.AMINE: (
        "[NX3;!$(N[C,S,P]=[O,S,N]);!$(N~[O,F,Cl,Br,I]);!$(NC#N)]",
        "[NX4+]",
        "[NH3]",
        "[NX3][NX3]",
    ),
    Feature.OTHER_NITROGEN: ("[#7;!$([N+](=O)[O-]);!$(N(=O)=O);!$(N#C)]",),
    Feature.NITRO_OR_NITRATE: ("[N+](=O)[O-]", "[NX3](=O)=O", "[NX2]=O"),
    Feature.NITRILE: ("[C,c]#N", "[C-]#N", "[N+]#[C-]"),
    Feature.CYANIDE_SOURCE: (
        "[C-]#N",
        "[CH]#N",
        "[OX2H][CX4]C#N",
        "[F,Cl,Br,I]C#N",
        "N#CC#N",
    ),
    Feature.ISOCYANATE: ("[NX2]=C=O",),
    Feature.WATER_SENSITIVE: (
        "[CX3](=[O,S])[F,Cl,Br,I]",
        "[CX3](=O)O[CX3]=O",
        "[SX3,SX4,PX3,PX4](=[O,S])[F,Cl,Br,I]",
        "[Si,B,P,As,S,Se,Te,N,Ge,Sb,Al,Ti,Sn,Zr,V,Cr,Mo,W][F,Cl,Br,I]",
        "[NX2]=C=O",
        "[CX2](=*)=[OX1]",
        "[Si,Al,B,P,As,Sb,Ge;!H0]",
        "[Cl,Br,I][CX4;!$(C(F)F)][OX2,SX2]",
        "[c,n]1nc([F,Cl,Br])nc([*])n1",
        "[Cl,Br]c1nc[n,c]cn1",
        "[SX4](=O)(=O)(O[CX4])O[CX4]",
        "[OX2]1C(=O)CC1",
        "C1C(=C)OC1=O",
        "[NX2]=C=S",
        "[H-]",
        "[C-]",
        "[N-2,N-3]",
        "[NH2-]",
        "[O-2]",
        "[Si][NX3]",
        "[Si]O[CX3]=O",
    ),
    Feature.MAKES_ACID: (
        "[CX3](=[O,S])[F,Cl,Br,I]",
        "[CX3](=O)O[CX3]=O",
        "[SX3,SX4,PX3,PX4](=[O,S])[F,Cl,Br,I]",
        "[Si,B,P,As,S,Se,Te,Ge,Sb,Al,Ti,Sn,Zr,V][F,Cl,Br,I]",
    ),
    Feature.PEROXIDE: ("[OX2][OX2]", "[O-][OX2]", "[O-][O-]", "[OX1]=[OX1]"),
    Feature.HALOGEN_ON_HETEROATOM: (
        "[N,O,n][Cl,Br,I]",
        "[Cl,Br,I](=O)",
        "[Cl,Br,I;+1,+2,+3]",
        "[O-][Cl,Br,I]",
    ),
    Feature.UNSATURATED: ("[C;!$(C=O)]=[C;!$(C=O)]", "C#C", "[CX2](=C)=[C,O]"),
    Feature.STRAINED_RING: ("[O,N,S;r3]", "[O,N;r4]", "[Si]1O[Si]O[Si]O1", "C1CCCC(=O)N1"),
    Feature.ALDEHYDE: ("[CX3H1]=O", "[CX3H2]=O"),
    Feature.FREE_FLUORIDE: ("[F-]", "[FH]"),
    Feature.FREE_SULFIDE: ("[S-2]", "[SH-]", "[SH2]"),
    Feature.CARBAMATE: ("[NX3]C(=[O,S])[OX2,SX2]", "[NX3]C(=O)ON=C"),
    Feature.BLISTER_GROUP: (
        "[S,N,n][CX4][CX4][Cl,Br,I]",
        "[As,Sb][F,Cl,Br,I]",
        "[F,Cl,Br,I]C=N[OX2]",
    ),
    Feature.HALOGENATED_BIARYL: ("[Cl,Br]c1aaaaa1-c2aaaaa2", "c1([Cl,Br])aaaa(c1)-c2aaaaa2"),
    Feature.HALOGENATED_AROMATIC: ("[c][Cl,Br]",),
    Feature.ENERGETIC_NITROGEN: (
        "[N-]=[N+]=[*]",
        "N=[N+]=[N-]",
        "[NX2]=[NX2]",
        "[N+]#N",
        "[#6]=[N+]=[N-]",
        "[O-]N=O",
        "[OX2][NX2]=O",
        "[OX2][N+](=O)[O-]",
        "[NX3][NX3]",
        "[NX3][OX2]",
    ),
    Feature.ALKYNE: ("C#C", "[C-]#C"),
    Feature.HYDROXIDE_OR_OXIDE: ("[OH-]", "[O-2]"),
}
# Elements without one of which a feature cannot be: spares most of the searching.
_NEEDS: Mapping[Feature, frozenset[str]] = {
    **dict.fromkeys(
        (
            Feature.AMINE_HYDROGEN,
            Feature.AMINE,
            Feature.OTHER_NITROGEN,
            Feature.NITRO_OR_NITRATE,
            Feature.NITRILE,
            Feature.ISOCYANATE,
            Feature.CARBAMATE,
            Feature.ENERGETIC_NITROGEN,
            Feature.CYANIDE_SOURCE,
        ),
        frozenset({"N"}),
    ),
    Feature.HYDROXYL: frozenset({"O"}),
    Feature.PEROXIDE: frozenset({"O"}),
    Feature.ALDEHYDE: frozenset({"O"}),
    Feature.FREE_FLUORIDE: frozenset({"F"}),
    Feature.FREE_SULFIDE: frozenset({"S"}),
    Feature.BLISTER_GROUP: frozenset({"S", "N", "As", "Sb"}),
    Feature.HALOGENATED_BIARYL: frozenset({"Cl", "Br"}),
    Feature.HALOGENATED_AROMATIC: frozenset({"Cl", "Br"}),
    Feature.HALOGEN_ON_HETEROATOM: frozenset({"Cl", "Br", "I"}),
}


def compiled_patterns() -> list[tuple[Feature, list[Any]]]:
    """Compile the patterns once for one build."""
    from rdkit import Chem, RDLogger

    RDLogger.DisableLog("rdApp.*")  # type: ignore[attr-defined]
    return [
        (feature, [Chem.MolFromSmarts(text) for text in patterns])
        for feature, patterns in _PATTERNS.items()
    ]


def _from_atoms(molecule: Any, is_ion: bool) -> Feature:
    """Features that need no pattern: elements, charges, isotopes."""
    atoms = list(molecule.GetAtoms())
    symbols = {atom.GetSymbol() for atom in atoms}
    found = Feature.PARSED
    metals = symbols - _NONMETALS
    charge = sum(atom.GetFormalCharge() for atom in atoms)
    flags = (
        (Feature.ION, is_ion or charge != 0),
        (Feature.ISOTOPE, any(atom.GetIsotope() for atom in atoms)),
        (Feature.METAL, bool(metals)),
        (Feature.ELEMENT, len(symbols) == 1 and symbols != {"H"} and "C" not in symbols),
        (Feature.ORGANIC, "C" in symbols),
        (Feature.PLAIN_ELEMENTS, symbols <= _PLAIN),
        (Feature.RADIOACTIVE_ELEMENT, bool(symbols & _RADIOACTIVE)),
        (Feature.FLUORINE, "F" in symbols),
        (Feature.CHLORINE, "Cl" in symbols),
        (Feature.HEAVY_HALOGEN, bool(symbols & {"Br", "I"})),
        (Feature.SULFUR, "S" in symbols),
        (Feature.PHOSPHORUS, "P" in symbols),
        (Feature.METAL_CARBON, _has_metal_carbon(molecule, metals | {"B", "Si", "Ge", "Sb", "As"})),
    )
    for feature, is_set in flags:
        if is_set:
            found |= feature
    return found


def _has_metal_carbon(molecule: Any, metals: set[str]) -> bool:
    for bond in molecule.GetBonds():
        ends = {bond.GetBeginAtom().GetSymbol(), bond.GetEndAtom().GetSymbol()}
        if "C" in ends and ends & metals - {"Si"}:
            return True
    return False


def _from_parts(smiles: str, molecule: Any) -> Feature:
    """Salts, hydrates and mixtures: what the parts of a dotted structure show."""
    found = Feature(0)
    parts = smiles.split(".")
    if len(parts) > 1:
        found |= Feature.SEVERAL_PARTS
        if any(part in ("O", "[OH2]") for part in parts):
            found |= Feature.HYDRATE
    if len(parts) > 1 and _charges_are_apart(parts):
        found |= Feature.SALT
        charged = {a.GetSymbol() for a in molecule.GetAtoms() if a.GetFormalCharge() > 0}
        if charged & (_SALT_METALS | {"N", "P", "S", "O"}):
            found |= Feature.IONIC_SALT
    if len(parts) > 1 and _HYDROGEN_HALIDES & set(parts) and "N" in smiles:
        found |= Feature.SALT | Feature.IONIC_SALT
    return found


def _charges_are_apart(parts: list[str]) -> bool:
    """Whether whole parts carry charge (a salt), rather than one part both (a nitro group)."""
    totals = []
    for part in parts:
        signs = re.findall(r"\[[^\]]*?([+-])(\d*)\]", part)
        totals.append(sum((1 if sign == "+" else -1) * int(count or 1) for sign, count in signs))
    return any(t > 0 for t in totals) and any(t < 0 for t in totals)


def features_of(smiles: str, is_ion: bool, patterns: list[tuple[Feature, list[Any]]]) -> Feature:
    """Return what one structure shows; nothing at all where it cannot be read."""
    from rdkit import Chem

    molecule = Chem.MolFromSmiles(smiles) if smiles else None
    if molecule is None:
        return Feature(0)
    found = _from_atoms(molecule, is_ion) | _from_parts(smiles, molecule)
    symbols = {atom.GetSymbol() for atom in molecule.GetAtoms()}
    for feature, several in patterns:
        needs = _NEEDS.get(feature)
        if needs and not needs & symbols:
            continue
        if any(molecule.HasSubstructMatch(pattern) for pattern in several):
            found |= feature
    hydroxyl = patterns[1][1][0]
    if Feature.HYDROXYL in found and len(molecule.GetSubstructMatches(hydroxyl)) > 1:
        found |= Feature.SEVERAL_HYDROXYLS
    return found


def inchikey_of(smiles: str) -> str | None:
    """Return the InChIKey of a structure; None where it cannot be read."""
    from rdkit import Chem, rdBase

    with rdBase.BlockLogs():
        molecule = Chem.MolFromSmiles(smiles)
        key = "" if molecule is None else Chem.MolToInchiKey(molecule)  # type: ignore[no-untyped-call]
    return str(key) or None
