"""Hazard facts agree with transport classes and do not contradict each other.

Transport classes: ADR 2025, Table A (United Nations), with 49 CFR 172.101 where the two differ or
ADR does not list the number. Only the numbers that rows carry stand here; a row with a new number
fails until its class is written down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

import pytest

from recommender.chemicals.table import Chemical, load_chemicals, load_data
from recommender.facts import Claim, Truth
from recommender.recommend import recommend
from recommender.scene import Scene

# Primary class or division -> UN numbers (ADR 2025 Table A / 49 CFR 172.101).
PRIMARY: Mapping[str, str] = {
    "2.1": "1001 1010 1011 1012 1027 1030 1032 1033 1035 1036 1037 1038 1049 1055 1060 1061 1063 "
    "1075 1077 1081 1083 1086 1087 1860 1959 1962 1965 1966 1969 1971 1972 1978 2044 2200 2203 "
    "2419 2452 3374",
    "2.2": "1013 1066 1072 1073 1006 1951 1977 2187",
    "2.3": "1005 1008 1016 1017 1026 1040 1045 1050 1053 1062 1064 1067 1076 1079 1082 1589 1660 "
    "1741 1911 1975 2186 2188 2189 2195 2199 2202 2204 2418 3520 3522 3525 3526",
    "3": "1089 1090 1093 1108 1114 1131 1154 1155 1162 1170 1173 1193 1194 1198 1202 1203 1208 "
    "1218 1219 1221 1223 1230 1243 1250 1265 1267 1268 1280 1294 1298 1299 1301 1302 1303 1307 "
    "1717 1863 1921 1993 1999 2055 2056 2265 2284 2356 2363 2371 2389 2404 2456 2459 2561 2749 "
    "3295",
    "4.1": "1338 1350 2448 3241 1868",
    "4.2": "1381 2447 3394 1380",
    "4.3": "1295 1340 1397 1402 1410 1414 1415 1418 1426 1428 2257 2805 2965",
    "5.1": "1463 1490 1495 1504 1748 1873 1942 2014 2067 2468 2880 2984 3485 3487",
    "5.2": "3105 3107 3109",
    "6.1": "1051 1092 1098 1259 1541 1547 1561 1580 1593 1595 1605 1614 1624 1649 1654 1662 "
    "1671 1680 1686 1687 1689 1692 1707 1709 1710 1809 1810 1838 1846 1888 1994 2020 2023 2074 "
    "2076 2078 2312 2471 2480 2489 2629 2630 2757 2761 2783 2810 2811 2821 2992 2996 3016 3018 "
    "3048 3155 3293 3413 3414 3426 3443 "
    "1143 1163 1185 1238 1239 1244 1510 1560 1670 1738 1916 2249 2291 2334 2337 2407 2646 "
    "2740 2862 3079 3483",
    "6.2": "2814",
    "7": "2912 2915 3321",
    "8": "1052 1715 1726 1727 1744 1754 1755 1779 1789 1790 1791 1796 1805 1807 1813 1814 1823 "
    "1824 1826 1828 1830 1831 1832 1836 1849 1910 2029 2030 2031 2032 2209 2491 2672 2789 2790 "
    "2796 2809 2817 3253 3412 3453 "
    "1604 1806 1829 2357 2401",
    "9": "1845 2212 2315 2590 3077 3082 3257",
}
# Subsidiary hazards of the same numbers, where a fact depends on them.
SUBSIDIARY: Mapping[str, str] = {
    "2.1": "1016 1026 1040 1053 1064 1082 1911 2188 2189 2199 2202 2204 3522 3525 3526",
    "3": "1051 1092 1098 1154 1259 1295 1614 1715 1779 1994 2023 2029 2480 2789 "
    "1143 1163 1185 1238 1239 1244 1604 1916 2249 2334 2337 2357 2401 2407 2740 2965 3079 "
    "3483",
    "4.2": "1418",
    "5.1": "1017 1045 1067 1072 1073 1660 1975 2032 3520 1510",
    "6.1": "1052 1093 1131 1194 1230 1380 1381 1397 1463 1744 1790 1831 1868 1921 2029 2032 2284 "
    "2404 2447 2809",
    "8": "1005 1008 1017 1045 1050 1067 1076 1079 1154 1162 1163 1198 1221 1238 1244 1250 1295 "
    "1298 1463 1589 1595 1660 1717 1738 1741 1809 1810 1838 1873 1975 2014 2032 2076 2186 2189 "
    "2195 2407 2418 2740 2965 3109 3485 3487 3520",
}
# Class 6.1 in packing group I and no other (the pesticide entries run over three groups).
POISON_PACKING_GROUP_I = (
    "1051 1092 1098 1259 1541 1580 1595 1605 1614 1649 1680 1689 1692 1809 1810 1838 1994 2471 "
    "2480 2629 2630 3048 "
    "1143 1163 1185 1238 1239 1244 1510 1560 1670 2334 2337 2407 2646 2740 3079 3483"
)
# Class 6.1 entries that run over packing groups I to III.
POISON_ANY_PACKING_GROUP = "2757 2761 2783 2810 2811 2992 2996 3016 3018 3413 3414"
# Hazard identification numbers with an X: reacts dangerously with water.
X_NUMBERS = "1295 1402 1415 1428 1717 1754 1810 1828 1831 1836 1838 2257 3394 1162 1250 1298 1829"


def classes_of(un: str) -> set[str]:
    tables = (PRIMARY, SUBSIDIARY)
    return {name for table in tables for name, numbers in table.items() if un in numbers.split()}


def claim(chemical: Chemical, name: str) -> Claim:
    return load_data(chemical).claims[name]


def is_yes(chemical: Chemical, name: str) -> bool:
    return claim(chemical, name).truth is Truth.YES


def has_note(chemical: Chemical, name: str) -> bool:
    return bool(claim(chemical, name).origin.note)


def primary(name: str) -> Callable[[Chemical], bool]:
    """Whether every number of a row has this primary class (a row may carry several numbers)."""
    return lambda chemical: (
        bool(chemical.un) and all(un in PRIMARY[name].split() for un in chemical.un)
    )


def any_class(*names: str) -> Callable[[Chemical], bool]:
    return lambda chemical: any(classes_of(un) & set(names) for un in chemical.un)


def any_number(numbers: str) -> Callable[[Chemical], bool]:
    return lambda chemical: any(un in numbers.split() for un in chemical.un)


# What a transport class says, and the facts of which one must be yes (else the first has a note).
CLASS_SAYS: Mapping[str, tuple[Callable[[Chemical], bool], tuple[str, ...]]] = {
    "4.2 ignites by itself": (any_class("4.2"), ("pyrophoric", "keep_wet")),
    "5.1 and 5.2 oxidize": (any_class("5.1", "5.2"), ("strong_oxidizer", "oxygen_enriching")),
    "8 corrodes skin": (primary("8"), ("skin_corrosive",)),
    "8 as a subsidiary corrodes skin": (any_class("8"), ("skin_corrosive",)),
    "6.1 packing group I": (any_number(POISON_PACKING_GROUP_I), ("toxic_6_1_pg_i",)),
    "3 and 2.1 burn": (any_class("3", "2.1"), ("flammable",)),
    "X: violent with water": (any_number(X_NUMBERS), ("reacts_violently_with_water",)),
    "7 is radioactive": (any_class("7"), ("radioactive",)),
    "6.2 is biological": (any_class("6.2"), ("biological",)),
    "5.1 gases enrich oxygen": (
        lambda c: c.form in ("gas", "cryogenic") and any_class("5.1")(c),
        ("oxygen_enriching", "strong_oxidizer"),
    ),
}

# The other way round: a yes that no class of the row supports needs a note.
FACT_NEEDS: Mapping[str, Callable[[Chemical], bool]] = {
    "toxic_6_1_pg_i": any_number(f"{POISON_PACKING_GROUP_I} {POISON_ANY_PACKING_GROUP}"),
    "strong_oxidizer": any_class("5.1", "5.2"),
    "flammable": any_class("2.1", "3", "4.1", "4.2", "4.3"),
    "pyrophoric": any_class("4.2"),
    "reacts_violently_with_water": lambda c: any_number(X_NUMBERS)(c) or any_class("4.3")(c),
    "radioactive": any_class("7"),
    "biological": any_class("6.2"),
}

LEADING_FIRSTS = (
    "keep_wet",
    "brush_before_water",
    "oxidizing_powder",
    "mercury_metal",
    "toxic_particulate",
)
# Facts that only an identity or two can have.
ONLY_FOR: Mapping[str, set[str]] = {
    "keep_wet": {"white-phosphorus"},
    "mercury_metal": {"mercury"},
    "nerve_agent": {"sarin", "soman", "tabun", "vx"},
    "vesicant": {"sulfur-mustard", "lewisite"},
    "biological": {"anthrax-spores"},
    "radioactive": {"radiological-particulate"},
    "opioid": {"fentanyl", "carfentanil"},
    "pcb_or_dioxin": {"polychlorinated-biphenyls", "pentachlorophenol"},
}
# Yes to both is a contradiction.
NEVER_BOTH = (
    ("acid", "alkali"),
    ("acid", "hypochlorite"),
    ("acid", "cyanide"),
    ("not_classified_for_health", "skin_corrosive"),
    ("not_classified_for_health", "skin_sensitizer"),
    ("not_classified_for_health", "known_human_carcinogen"),
    ("not_classified_for_health", "toxic_6_1_pg_i"),
    ("not_classified_for_health", "skin_notation"),
    ("not_classified_for_health", "toxic_particulate"),
    ("asphyxiant", "toxic_particulate"),
    ("brush_before_water", "toxic_particulate"),
    ("oxidizing_powder", "toxic_particulate"),
    ("oxidizing_powder", "brush_before_water"),
    ("keep_wet", "reacts_violently_with_water"),
)
# Yes to the first needs yes to one of the rest. Acetone cyanohydrin and hydrogen cyanide count as
# cyanide without being salts.
NEEDS_ONE_OF: Mapping[str, tuple[str, ...]] = {
    "hydrofluoric_type": ("calcium_line",),
    "nerve_agent": ("cholinesterase_inhibitor",),
    "oxygen_enriching": ("strong_oxidizer", "asphyxiant", "flammable"),
    "brush_before_water": ("alkali", "heats_with_water"),
}
# Exceptions to a pair above, with the reason.
BOTH_ANYWAY: Mapping[tuple[str, str, str], str] = {
    ("acid", "cyanide", "hydrogen-cyanide"): "a weak acid that is itself the cyanide",
    (
        "acid",
        "hypochlorite",
        "trichloroisocyanuric-acid",
    ): "its solution is acid and holds chlorine",
}


def listed(problems: Iterable[str]) -> None:
    found = list(problems)
    assert not found, f"{len(found)} to settle:\n" + "\n".join(found)


def every_row() -> Iterable[Chemical]:
    return load_chemicals().values()


def test_every_un_number_of_a_row_has_one_primary_class_here() -> None:
    tables = [numbers.split() for numbers in PRIMARY.values()]
    listed(
        f"{chemical.key}: UN {un}"
        for chemical in every_row()
        for un in chemical.un
        if sum(un in numbers for numbers in tables) != 1
    )


def test_the_small_tables_speak_of_numbers_that_have_a_primary_class() -> None:
    known = {un for numbers in PRIMARY.values() for un in numbers.split()}
    others = (*SUBSIDIARY.values(), POISON_PACKING_GROUP_I, POISON_ANY_PACKING_GROUP, X_NUMBERS)
    assert {un for numbers in others for un in numbers.split()} - known == set()


@pytest.mark.parametrize("name", CLASS_SAYS)
def test_a_transport_class_is_borne_out_by_the_facts_or_a_note(name: str) -> None:
    applies, facts = CLASS_SAYS[name]
    listed(
        f"{chemical.key} (UN {'; '.join(chemical.un)}): {facts[0]} is "
        f"{claim(chemical, facts[0]).truth.value} without a note"
        for chemical in every_row()
        if applies(chemical)
        and not any(is_yes(chemical, fact) for fact in facts)
        and not has_note(chemical, facts[0])
    )


@pytest.mark.parametrize("fact", FACT_NEEDS)
def test_a_hazard_that_no_transport_class_names_has_a_note(fact: str) -> None:
    listed(
        f"{chemical.key} (UN {'; '.join(chemical.un)}): {fact}"
        for chemical in every_row()
        if is_yes(chemical, fact)
        and not FACT_NEEDS[fact](chemical)
        and not has_note(chemical, fact)
    )


def leading_firsts(chemical: Chemical) -> list[str]:
    """First steps that lead. White phosphorus ignites by itself, and a violent reactive may be
    toxic dust as well: there the first of the two leads."""
    firsts = [name for name in LEADING_FIRSTS if is_yes(chemical, name)]
    reactive = [f for f in ("reacts_violently_with_water", "pyrophoric") if is_yes(chemical, f)]
    if "keep_wet" in firsts:
        return [name for name in firsts if name != "toxic_particulate"]
    if reactive:
        return [reactive[0], *(name for name in firsts if name != "toxic_particulate")]
    return firsts


@pytest.mark.parametrize("chemical", every_row(), ids=lambda c: c.key)
def test_a_row_has_at_most_one_leading_first_step(chemical: Chemical) -> None:
    assert len(leading_firsts(chemical)) <= 1, leading_firsts(chemical)


@pytest.mark.parametrize("contact", ["splash", "gross", "vapor"])
@pytest.mark.parametrize("chemical", every_row(), ids=lambda c: c.key)
def test_no_chemical_has_two_firsts_at_its_usual_scene(chemical: Chemical, contact: str) -> None:
    plan = recommend(chemical, Scene(contact=contact))
    assert plan.outcomes.method.conflict == ()


@pytest.mark.parametrize("fact", ONLY_FOR)
def test_a_fact_of_few_identities_is_yes_for_those_and_settled_for_the_rest(fact: str) -> None:
    assert {c.identity for c in every_row() if is_yes(c, fact)} == ONLY_FOR[fact]


@pytest.mark.parametrize("pair", NEVER_BOTH, ids=" and ".join)
def test_no_row_says_yes_to_two_facts_that_exclude_each_other(pair: tuple[str, str]) -> None:
    listed(
        chemical.key
        for chemical in every_row()
        if all(is_yes(chemical, fact) for fact in pair) and (*pair, chemical.key) not in BOTH_ANYWAY
    )


@pytest.mark.parametrize("fact", NEEDS_ONE_OF)
def test_a_fact_that_follows_from_another_is_there_with_it(fact: str) -> None:
    listed(
        chemical.key
        for chemical in every_row()
        if is_yes(chemical, fact)
        and not any(is_yes(chemical, other) for other in NEEDS_ONE_OF[fact])
    )


def test_powder_facts_are_only_for_what_can_be_met_as_a_solid() -> None:
    solids = ("solid", "powder", "molten")
    listed(
        f"{chemical.key}: {fact}"
        for chemical in every_row()
        for fact in ("brush_before_water", "oxidizing_powder", "toxic_particulate")
        if is_yes(chemical, fact) and chemical.form not in solids
    )


def test_what_is_done_after_the_first_step_is_stated_only_where_there_is_one() -> None:
    firsts = (*LEADING_FIRSTS, "reacts_violently_with_water", "pyrophoric")
    listed(
        chemical.key
        for chemical in every_row()
        if load_data(chemical).words["after_first"].word
        and chemical.form not in ("cryogenic", "molten")
        and not is_yes(chemical, "oxygen_enriching")
        and not any(is_yes(chemical, fact) for fact in firsts)
    )
