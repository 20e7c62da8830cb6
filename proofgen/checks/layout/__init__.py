"""Checks of what lies where: one file each, named as their ids."""
