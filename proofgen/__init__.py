"""proofgen: from a customer's photo to a signed, mirrored press sheet."""

__version__ = "0.1.0"
__all__ = ["__version__"]
