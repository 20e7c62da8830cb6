"""Photos and words laid onto blanks, described for the fingerprint, painted as press rasters."""
