"""What a picture is put together from: how much of cloth and ground each pixel takes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from proofgen.views.hand.camera import Floats, Frame


@dataclass(slots=True)
class Layers:
    """Shares by which a pixel takes its colour (height x width, float): `ink` times what the cloth
    shows there, `bare` times the bare cloth's colour, `ground` times the ground's, and `own` times
    the metal's; no pixel takes more than 1 of all. Colours are as they are written in files, not
    linear: a share s there is about a light of s ** 2.2."""

    ink: Floats
    bare: Floats
    ground: Floats
    own: Floats

    @classmethod
    def on_ground(cls, frame: Frame) -> Layers:
        """Nothing but the ground."""
        size = (frame.height_px, frame.width_px)
        ink, bare, own = (np.zeros(size, np.float32) for _ in range(3))
        return cls(ink, bare, np.ones(size, np.float32), own)

    def lay(
        self,
        cover: Floats,
        *,
        ink: Floats | float = 0.0,
        bare: Floats | float = 0.0,
        own: Floats | float = 0.0,
    ) -> None:
        """Something in front, where `cover` is more than 0: its own shares, not yet covered."""
        past = 1 - cover
        self.ink = self.ink * past + cover * ink
        self.bare = self.bare * past + cover * bare
        self.ground = self.ground * past
        self.own = self.own * past + cover * own

    def lay_finer(self, finer: Layers, first: int, times: int) -> None:
        """What was laid upon clear ground in pixels `times` smaller, its rows from `first` on."""
        rows = len(finer.ink) // times
        part = np.s_[first : first + rows]
        mean = (rows, times, self.ink.shape[1], times)
        ink, bare, ground, own = (
            plane.reshape(mean).mean((1, 3))
            for plane in (finer.ink, finer.bare, finer.ground, finer.own)
        )
        self.ink[part] = self.ink[part] * ground + ink
        self.bare[part] = self.bare[part] * ground + bare
        self.own[part] = self.own[part] * ground + own
        self.ground[part] = self.ground[part] * ground

    def darken(self, share: Floats) -> None:
        """All light here times `share`."""
        self.ink = self.ink * share
        self.bare = self.bare * share
        self.ground = self.ground * share
        self.own = self.own * share
