"""Chemicals: name, CAS number or UN number to one row of identity, form and strength."""
