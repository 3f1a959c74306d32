"""Screens: start, drive, and what lies over them."""
