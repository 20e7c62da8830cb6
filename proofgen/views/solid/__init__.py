"""The finished thing as a model of three dimensions at its true size."""
