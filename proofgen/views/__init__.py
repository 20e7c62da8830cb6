"""What people see of a piece, made from its press rasters: faces, in the round, on its cloth."""
