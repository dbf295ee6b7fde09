"""The outline room: shapes become one cuttable outline and its proof."""

from namebatch.outline.bare import BareBase, bare_base
from namebatch.outline.finish import Outline, finish
from namebatch.outline.hang import Hang
from namebatch.outline.kerf import offset_for_kerf
from namebatch.outline.model import Bridge, Letter, Limits, Order
from namebatch.outline.necks import Neck, narrowest_neck

__all__ = [
    "BareBase",
    "Bridge",
    "Hang",
    "Letter",
    "Limits",
    "Neck",
    "Order",
    "Outline",
    "bare_base",
    "finish",
    "narrowest_neck",
    "offset_for_kerf",
]
