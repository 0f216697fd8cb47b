"""The cloth somebody owns, kept in one file: see docs/ledger.md."""

from ellwand.ledger.ledger import Ledger
from ellwand.ledger.nouns import (
    Entry,
    FabricTaking,
    Find,
    Kind,
    OwnedCloth,
    OwnedFabric,
    Selvage,
    Taking,
    Used,
)
from ellwand.ledger.shelving import shelf_at
from ellwand.ledger.store import default_path
from ellwand.ledger.taking import taking_of

__all__ = [
    "Entry", "FabricTaking", "Find", "Kind", "Ledger", "OwnedCloth", "OwnedFabric", "Selvage", "Taking", "Used",
    "default_path", "shelf_at", "taking_of",
]  # fmt: skip
