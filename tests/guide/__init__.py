"""Tests of the guide, of README, and of what both promise."""
