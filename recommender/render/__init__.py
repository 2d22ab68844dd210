"""A plan as text or JSON. Nothing is decided here."""
