"""The pictures of the invented demo shop, painted by numbers: nothing here was photographed."""
