"""The text room: a string, a typeface and a size rule become ink in millimetres."""

from namebatch.text.catalogue import Catalogue, FaceInfo, load_catalogue
from namebatch.text.fit import SetText, fit
from namebatch.text.label import label_shape

__all__ = ["Catalogue", "FaceInfo", "SetText", "fit", "label_shape", "load_catalogue"]
