"""Checks of blanks: one file each, named as their ids."""
