"""Words of the sheets in another language, with its decimal sign and the unit of length of the sheets."""

from sequencer.language.catalogue import Catalogue
from sequencer.language.wording import PLAIN, Wording, languages, read_catalogue

__all__ = ["PLAIN", "Catalogue", "Wording", "languages", "read_catalogue"]
