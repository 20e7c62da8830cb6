"""Checks of photos: one file each, named as their ids."""
