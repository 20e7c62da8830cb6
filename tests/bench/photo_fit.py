"""The weights of the faint score of proofgen/checks/traces.py, from the tuned photographs."""

from __future__ import annotations

import numpy as np

from proofgen.checks import traces
from tests.bench.photo_rows import Seen


def fit(all_seen: list[Seen]) -> tuple[list[float], float]:
    """Weights and offset of the faint score, by logistic regression on the tuned half; the offset
    so that one in a hundred pictures that were not enlarged is noted."""
    good, bad = [], []
    for seen in all_seen:
        measured, label = seen.measures, seen.label
        if seen.whose != "tuned" or measured is None or measured.traces is None:
            continue
        if traces.enlarging(measured.traces).kind not in ("", "faint"):
            continue
        if label.startswith("x") and label.endswith("JPEG 90"):
            bad.append(traces.features(measured.traces.swings))
        elif label.endswith(("JPEG 60", "JPEG 75", "JPEG 85", "JPEG 90", "JPEG 95")):
            good.append(traces.features(measured.traces.swings))
    known = np.array(bad + good)
    is_bad = np.array([1.0] * len(bad) + [0.0] * len(good))
    weigh = np.where(is_bad > 0, 1 / len(bad), 1 / len(good))
    middle, spread = known.mean(axis=0), known.std(axis=0)
    features = np.column_stack([(known - middle) / spread, np.ones(len(known))])
    weights = np.zeros(features.shape[1])
    for _ in range(200):  # Newton's method, with a little damping towards zero
        chance = 1 / (1 + np.exp(-features @ weights))
        slope = features.T @ (weigh * (chance - is_bad)) + 0.01 * weights
        curve = (features.T * (weigh * chance * (1 - chance))) @ features
        weights -= np.linalg.solve(curve + 0.01 * np.eye(len(weights)), slope)
    scale = weights[:-1] / spread
    return list(scale), -float(np.quantile(np.array(good) @ scale, 0.99))
