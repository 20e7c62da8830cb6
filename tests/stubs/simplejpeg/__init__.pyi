# The part of simplejpeg that photo.gaps uses.
def decode_jpeg(
    data: bytes,
    colorspace: str,
    *,
    fastdct: bool,
    min_factor: int,
    strict: bool,
) -> object: ...
