"""Lets the tests of every folder import the modules beside this file."""
