# What views.solid.usdz uses of usd-core; its own types are loose.
from typing import Any

Gf: Any
Kind: Any
Sdf: Any
Usd: Any
UsdGeom: Any
UsdShade: Any
UsdValidation: Any
Vt: Any
