"""proofgen: from a customer's photo to a signed, mirrored press sheet."""

import os

# Before numpy comes: its products of matrices are small, and a thread for each core would spend
# more of the processor's time waiting for the others than working. Nor does it then ask for room
# for every processor of the machine.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

__version__ = "0.1.0"
__all__ = ["__version__"]
