"""Text to part and shop: every fault at once, each with file, line and remedy."""

from sequencer.files.load import (
    part_from_text,
    read_part,
    read_part_and_shop,
    read_shop,
    shop_from_text,
)
from sequencer.files.rotation import RotationFiles, read_rotation

__all__ = [
    "RotationFiles",
    "part_from_text",
    "read_part",
    "read_part_and_shop",
    "read_rotation",
    "read_shop",
    "shop_from_text",
]
