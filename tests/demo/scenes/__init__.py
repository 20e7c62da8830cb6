"""Scenes that look like photographs: built by numbers of ours, lit and seen by a renderer."""
