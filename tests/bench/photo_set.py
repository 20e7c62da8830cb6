"""Real photographs for measurements: more than the tests need, with how each is split and shown.

`group` splits them: one half (by a digest of the name) to tune limits on, the other to report on,
and a few that were looked at when all was done. Terms as in tests/real_photos.py: none is part of
the repository.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

from PIL import Image

from proofgen import artwork
from tests.real_photos import EXTRA, PHOTOS, Package, Photo, real_photo

_WALLS = Package("lomiri-wallpapers-16.04", "20.04.0-2")  # CC0, CC-BY-4.0, CC-BY-SA-4.0, 16 MB
_BIRDS = Package("lomiri-wallpapers-20.04", "20.04.0-2")  # CC-BY-SA-3.0, 11 MB
_NATURE = Package("mate-backgrounds", "1.26.0-1")  # GPL-2+, 47 MB

# File, SHA-256, width and height in px.
_FROM_WALLS = {
    "bridge.jpg": (
        "Bridge_by_Sander_Klootwijk",
        "bd86b081f9975e2b83527f71e49b9271a8ab40885428395969d9f7d834d7f050",
        4352,
        2448,
    ),
    "fig.jpg": (
        "Picture_0B_by_freespace",
        "c8c0ab18e48d9e0419fe42881112137f3afafc27dfddc29ec3a6d54c56d225ad",
        2572,
        1740,
    ),
    "brushes.jpg": (
        "Picture_1A_by_freespace",
        "89e86af38d04daaef975665dc2127e9fa76f0fd68f4eea105a2d0ae3390b010b",
        1365,
        1074,
    ),
    "meadow.jpg": (
        "aitzgorri_by_Aitzol_Berasategi",
        "66268e7b48f8854d36a28765fac6e23ec1aee251daa6da1f64715f201020ad36",
        3088,
        2056,
    ),
    "budgie.jpg": (
        "free_by_Peter_Nerlich",
        "85a5453c2fed514c75973016f3d862aca62eb7ca087618822469274ac1092373",
        2880,
        2160,
    ),
    "dogs.jpg": (
        "friends_by_Aitzol_Berasategi",
        "cc40e313c74e421edffe3403def413c16878ce14661cce7ec5915baeab35538d",
        2056,
        3088,
    ),
    "clock.jpg": (
        "greentock_by_Peter_Nerlich",
        "e7b20e2db9dcd6e2b278ca55873c2110b35d89cd38b04d0b18728726888e6889",
        2880,
        2160,
    ),
    "stream.jpg": (
        "life_by_Aitzol_Berasategi",
        "4c119350ead80201fe256850c3d316309ddfb4bdf10b235ce982dcde0c667c05",
        3088,
        2056,
    ),
    "peaks.jpg": (
        "picosdeeuropa_by_Aitzol_Berasategi",
        "414d0072b2f6f2c555deafeaef6e45c4fed6fa9ad26eba6560ca8803959cf97a",
        3264,
        2448,
    ),
}
# Mostly shallow focus: a false-alarm test. "Storm" was taken from a moving car.
_FROM_NATURE = {
    "aqua.jpg": (
        "Aqua",
        "5c30118205982da441bf7e6a1ada636a8a0be879408140b3148280c665ed6bce",
        2560,
        1600,
    ),
    "blinds.jpg": (
        "Blinds",
        "f7aac0dcc2e06d0491643e84df3da1d9db7c4610f58806a880d56e074799f600",
        1920,
        1200,
    ),
    "dune.jpg": (
        "Dune",
        "8a67c2cb0be8c46b70c237311a4fa4d2b4ac7d39568135384787801fa5cc9a91",
        1680,
        1050,
    ),
    "freshflower.jpg": (
        "FreshFlower",
        "972b0a0c4e5e3fa93f4f244fc84bc64b121a5eac3aaa5856f1308c1f38a02f8e",
        1600,
        1203,
    ),
    "garden.jpg": (
        "Garden",
        "d3095ee09d425ef23d27155412136cf14fc3c9af76ca58b452f55e23da324e78",
        2560,
        1600,
    ),
    "greenmeadow.jpg": (
        "GreenMeadow",
        "8fa0de0aa4089f7319c9fb7a6d006d4cab6023e8c8853731557cff53567b4832",
        1280,
        1024,
    ),
    "ladybird.jpg": (
        "LadyBird",
        "e35a9a4126ef969c90b29c038058c5a575a20eadd84106a37bf1fa9931e7b61d",
        2560,
        1600,
    ),
    "raindrops.jpg": (
        "RainDrops",
        "3e4ea9671c28c90a86cf67b3db9daf18c4741587c596333a7529ca589aaa0c16",
        1920,
        1200,
    ),
    "storm.jpg": (
        "Storm",
        "77ca53077831d3237f73393a91fc879158abc046d852941c26e90de336356957",
        1920,
        1280,
    ),
    "twowings.jpg": (
        "TwoWings",
        "665e5abf8a5399070a91a9a8e455fe071e5b61697ff78fdeda4e9843ef545aeb",
        2560,
        1600,
    ),
    "wood.jpg": (
        "Wood",
        "19c78500ac00a622e19907ab9cc7d06d46fe08c4a6142759a84195696150ec07",
        2560,
        1920,
    ),
    "yellowflower.jpg": (
        "YellowFlower",
        "254da96256acb7add685679775a04d1e4a5bc8cd13e5a5a3d61351ce198a5306",
        2560,
        1600,
    ),
}
EXTRA |= {
    name: Photo(_WALLS, f"usr/share/backgrounds/{file}.jpg", *rest)
    for name, (file, *rest) in _FROM_WALLS.items()
}
EXTRA |= {
    name: Photo(_NATURE, f"usr/share/backgrounds/mate/nature/{file}.jpg", *rest)
    for name, (file, *rest) in _FROM_NATURE.items()
}
EXTRA["nuthatch.jpg"] = Photo(
    _BIRDS,
    "usr/share/backgrounds/Kleiber_by_Lukas_Baubkus.jpg",
    "6572410c09f4492c74ccadde133565a14c0161617d5917d4c820c66d65a44ba7",
    6028,
    3391,
)

# Photographs that nobody looked at while the limits were set: a cat, a plant, a pen and so on.
_HEIF = PHOTOS["pug.heic"].package
_UNSEEN = {
    "cat.hif": (
        "heif_other/cat.hif",
        "3a396202a8bb50c5cccbfd89d3cf6ef0a0fa47794afd785693d882edc2eb30b7",
        4240,
        2832,
    ),
    "plant.heic": (
        "heif_other/spatial_photo.heic",
        "ef941d328072a2df034adb3c3b46f41117606bfc8fcc100dff975d31f55ec028",
        2560,
        2560,
    ),
    "pen.heic": (
        "heif_special/xiaomi.heic",
        "cb5c7d9131931df4abd9bfe1c3de47617b68d1fae54a1c367fc5981ffea6aeed",
        2592,
        1944,
    ),
    "bluetit.heic": (
        "heif_other/nokia/bird_burst.heic",
        "b9cb7666f3cbd7d9240816befd1d7406f66cfd69c85440b091da37fe70743c14",
        1280,
        720,
    ),
    "path.heic": (
        "heif_other/nokia/stereo_1200x800.heic",
        "6ddd7929f30d7e521bd34f24bf302962e3f956dd8f5e65f792006395630b8e33",
        1200,
        800,
    ),
    "map.heic": (
        "heif_special/aux_YCbCr.heic",
        "8deae321c3b6424f97ab5d57d022e0a79ac35278149c0de7796261b8981f50b0",
        4000,
        1848,
    ),
    "pugface.heic": (
        "heif_other/empty_icc.heic",
        "8f14e825ed613843930c6ca60835c3b971eb31499fb231050a47b4a8daf3247b",
        1025,
        900,
    ),
}
EXTRA |= {
    name: Photo(_HEIF, f"pillow_heif-1.8.1/tests/images/{file}", *rest)
    for name, (file, *rest) in _UNSEEN.items()
}

# Small pictures that the scikit-image wheel carries in its data folder.
_SMALL = (
    "astronaut.png",
    "brick.png",
    "camera.png",
    "chelsea.png",
    "coffee.png",
    "grass.png",
    "gravel.png",
    "motorcycle_left.png",
    "retina.jpg",
    "rocket.jpg",
)
# Neither drawings nor the smallest portraits: too few pixels to print.
_LEFT_OUT = ("cmyk.jpg", "hopper-")


GROUPS = ("tuned", "reported", "unseen")


def names() -> list[str]:
    """All photographs, by name."""
    real = [n for n in (*PHOTOS, *EXTRA) if not n.startswith(_LEFT_OUT)]
    return sorted([*real, *_SMALL])


def unseen() -> list[str]:
    """Those that were looked at last."""
    return sorted(_UNSEEN)


def group(name: str) -> str:
    """Of GROUPS: the half that limits were tuned on, the other, or those looked at last."""
    if name in _UNSEEN:
        return "unseen"
    return "tuned" if hashlib.sha256(name.encode()).digest()[0] % 2 == 0 else "reported"


def path_of(name: str) -> Path:
    """Where a photograph lies; fetched if need be."""
    if name in _SMALL:
        import skimage

        return Path(skimage.__file__).parent / "data" / name
    return real_photo(name)


def opened(name: str) -> Image.Image:
    """Its pixels as the product sees them, at most about 50 megapixels."""
    facts = artwork.inspect(path_of(name), decode=False)
    large = facts.width_px * facts.height_px > 50_000_000
    wanted = (facts.width_px // 2, facts.height_px // 2) if large else None
    return artwork.open_pixels(facts, wanted).convert("RGB")
