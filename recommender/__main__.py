"""Allow ``python -m recommender``."""

from recommender.cli import main

main()
