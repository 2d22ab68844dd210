"""Recommends how to set up a decontamination line, with reasons, sources and cautions.

>>> from recommender import recommend, find, Scene
>>> plan = recommend("acetone", Scene(contact="splash"))
>>> plan.outcomes.stations.recommended
1
"""

from __future__ import annotations

from recommender.chemicals.lookup import find
from recommender.policy import load_policy
from recommender.properties.stated import StatedValue, parse_stated
from recommender.recommend import Plan, recommend
from recommender.scene import Scene

__all__ = ["Plan", "Scene", "StatedValue", "find", "load_policy", "parse_stated", "recommend"]
