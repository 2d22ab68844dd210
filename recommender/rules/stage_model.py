"""A second opinion on the count: what n washes would leave, against a screening target.

The screening convention (a share of the dermal LD50 over a hand's area of skin) and the share
removed per position are this project's judgement. The model may add one position and never takes
one away; it does not describe corrosion, sensitization or cancer, so for these its additions are
kept and its reassurance is not shown.
"""

from __future__ import annotations

from dataclasses import dataclass

from recommender.effects import Caution, Grade, Positions, Rank
from recommender.engine import Decision, Stage, rule, when
from recommender.facts import (
    NO,
    YES,
    Facts,
    Number,
    Truth,
    Verdict,
    all_of,
    any_of,
    not_,
    settled,
)
from recommender.limits import Limits
from recommender.physics.removal import (
    required_log_reduction,
    residual_fraction,
    stations_to_reach,
)

_STAGE = Stage.STAGE_MODEL
WASH_CLASSES = ("rinses freely", "needs detergent and brush", "oily", "thick or tarry")
_REMOVAL = ("free", "detergent", "oily", "thick")


@dataclass(frozen=True, slots=True)
class Screen:
    """The model's answer at one end of what is known.

    Attributes:
        wash_class: index into ``WASH_CLASSES``.
        required: decimal logs of reduction to the target.
        needed: positions that reach the target, None if no number does.
    """

    wash_class: int
    required: float
    removal: float
    floor: float
    needed: int | None

    def percent_left(self, positions: int) -> float:
        """Percent of the load left after this many positions."""
        return 100.0 * residual_fraction(positions, self.removal, self.floor)


def _wash_class(solubility: float, viscosity: float, is_thick: bool, limits: Limits) -> int:
    if is_thick or viscosity > limits.value("stations.thick_viscosity"):
        return 3
    if solubility < limits.value("stage_model.oily_solubility"):
        return 2
    if solubility > limits.value("stations.sparing_solubility") and (
        viscosity <= limits.value("stage_model.thin_viscosity")
    ):
        return 0
    return 1


def _ends(number: Number, worst_is_low: bool, nothing: float) -> tuple[float, float]:
    """Return the cautious and the mild end of a number; ``nothing`` where it is not known."""
    if number.low is None or number.high is None:
        return nothing, nothing
    return (number.low, number.high) if worst_is_low else (number.high, number.low)


def _screen(facts: Facts, limits: Limits, dose: float, *, cautious: bool) -> Screen:
    solubility = _ends(facts.number("water_solubility"), True, 0.0)[0 if cautious else 1]
    solid_like = facts["form_solid"].is_yes
    viscosity = (
        0.0 if solid_like else _ends(facts.number("viscosity"), False, 0.0)[0 if cautious else 1]
    )
    tarry = facts["thick_or_tarry"]
    is_thick = tarry.is_yes or (cautious and tarry.is_unknown and not solid_like)
    wash_class = _wash_class(solubility, viscosity, is_thick, limits)
    load = "gross" if facts["contact_gross"].is_yes else "splash"
    porous = facts["suit_turnout"].is_yes
    required = required_log_reduction(
        load_kg_m2=limits.value(f"stage_model.load_{load}") / 100.0,
        dermal_ld50_kg_kg=dose * 1e-6,
        body_mass_kg=limits.value("stage_model.body_mass"),
        uncertainty_factor=limits.value("stage_model.safety_factor"),
        contact_area_m2=limits.value("stage_model.contact_area") * 1e-4,
        transfer_fraction=limits.value("stage_model.transfer"),
    )
    removal = limits.value(f"stage_model.removal_{_REMOVAL[wash_class]}")
    floor = limits.value(f"stage_model.floor_{'porous' if porous else 'smooth'}")
    return Screen(wash_class, required, removal, floor, stations_to_reach(required, removal, floor))


def covers(facts: Facts, limits: Limits) -> Verdict:
    """Whether the model has anything to say.

    Not where nothing is washed or no film can exist, and not for an acid or alkali that mixes
    freely with water: its rinse goes on until pH paper is neutral, which is time and not
    positions.
    """
    soluble = facts.number("water_solubility").at_least(limits["stations.freely_soluble"])
    on_paper = all_of(soluble, any_of(facts["acid"], facts["alkali"]))
    return all_of(
        facts["contact_condensed"],
        not_(facts["stays_dry"]),
        not_(facts["film_impossible"]),
        not_(on_paper),
    )


def reassures(facts: Facts) -> bool:
    """Whether what is left may be shown: no harm that the LD50 does not describe."""
    others = ("skin_corrosive", "skin_sensitizer", "known_human_carcinogen", "vesicant")
    return all(facts[name].is_no for name in (*others, "hydrofluoric_type"))


def screens(facts: Facts, limits: Limits) -> tuple[Screen, Screen, Screen] | None:
    """Return the screens at the cautious, the middle and the mild end; None without an LD50."""
    dose = facts.number("dermal_ld50")
    if dose.low is None or dose.mid is None or dose.high is None:
        return None
    return (
        _screen(facts, limits, dose.low, cautious=True),
        _screen(facts, limits, dose.mid, cautious=True),
        _screen(facts, limits, dose.mid, cautious=False),
    )


def _falls_short(screen: Screen, positions: float) -> bool:
    return screen.needed is None or screen.needed > positions


def _missing(facts: Facts) -> tuple[str, ...]:
    names = tuple(n for n in ("water_solubility", "viscosity") if not facts.number(n).is_known)
    return names + (("thick_or_tarry",) if facts["thick_or_tarry"].is_unknown else ())


def _short_verdict(worst: Screen, best: Screen, positions: float, facts: Facts) -> Verdict:
    if not _falls_short(worst, positions):
        return NO
    if _falls_short(best, positions):
        return YES
    return Verdict(Truth.UNKNOWN, _missing(facts))


@rule(
    "STN-070",
    title="The stage model falls short of its target",
    stage=_STAGE,
    sources=("judgement", "ghs"),
)
def one_more(facts: Facts, limits: Limits) -> Decision:
    """If the count so far leaves more than the screening target, one more position is added.

    Not used where the toxicity is unknown, where nothing is washed, or for a freely soluble acid
    or alkali, whose rinse is timed by pH paper.
    """
    effect = Positions(1, 1, 1, "the stage model asks for one more")
    found = screens(facts, limits)
    applicable = covers(facts, limits)
    if found is None:
        return when(NO, effect)
    _, middle, mild = found
    so_far = facts.number("positions_so_far").mid or 0.0
    return when(all_of(applicable, _short_verdict(middle, mild, so_far, facts)), effect)


@rule(
    "STN-071",
    title="The stage model falls short at the cautious end",
    stage=_STAGE,
    sources=("judgement", "ghs"),
)
def one_more_perhaps(facts: Facts, limits: Limits) -> Decision:
    """Where only the most toxic end of the class misses the target, the range grows.

    So it does where nobody knows the class.
    """
    effect = Positions(0, 0, 1, "the stage model asks for one more at its cautious end")
    found = screens(facts, limits)
    applicable = covers(facts, limits)
    if found is None:
        open_question = not facts.number("dermal_category").is_known
        unknown = Verdict(Truth.UNKNOWN, ("dermal_category",)) if open_question else NO
        return when(all_of(applicable, unknown), effect)
    cautious, middle, _ = found
    so_far = facts.number("positions_so_far").mid or 0.0
    falls = settled(_falls_short(cautious, so_far))
    enough = settled(not _falls_short(middle, so_far))
    return when(all_of(applicable, falls, enough), effect)


@rule(
    "STN-073",
    title="The stage model falls short at the low end of the count",
    stage=_STAGE,
    sources=("judgement", "ghs"),
)
def low_end(facts: Facts, limits: Limits) -> Decision:
    """Where an open question may take a position off again, the low end is held up."""
    effect = Positions(1, 0, 0, "the stage model holds the low end up")
    found = screens(facts, limits)
    applicable = covers(facts, limits)
    if found is None:
        return when(NO, effect)
    _, middle, mild = found
    so_far = facts.number("positions_so_far")
    short = settled(_falls_short(mild, so_far.low or 0.0))
    enough = settled(not _falls_short(middle, so_far.mid or 0.0))
    return when(all_of(applicable, short, enough), effect)


@rule(
    "STN-072",
    title="No number of washes reaches the target",
    stage=_STAGE,
    sources=("judgement",),
)
def out_of_reach(facts: Facts, limits: Limits) -> Decision:
    """What the suit holds back, or what each wash leaves, stays above the screening target.

    Not said of what has left by itself within minutes.
    """
    effect = Caution(
        Rank.CONTAINMENT,
        "Washing alone may not be enough: check, isolate the suit, discard it.",
    )
    found = screens(facts, limits)
    applicable = covers(facts, limits)
    if found is None:
        return when(NO, effect)
    beyond = settled(_falls_short(found[1], limits.value("stations.cap")))
    lasts = facts.number("persistence").above(float(Grade.MINUTES))
    return when(all_of(applicable, beyond, lasts), effect)


RULES = (one_more, one_more_perhaps, low_end, out_of_reach)
