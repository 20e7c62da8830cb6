"""Checks of names, dates and other words: one file each, named as their ids."""
