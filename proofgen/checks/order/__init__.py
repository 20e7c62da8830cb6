"""Checks of whole orders: one file each, named as their ids."""
