"""Records answers, and admits to the press only artwork that was signed as it stands."""
