"""Defects by subject; importing a subject registers its own."""

from generated_fleet.defects import (
    arresters,
    bonding,
    detection,
    grounding_transformers,
    inspection,
    insulation,
    mat,
    neutral_devices,
    record,
    return_path,
    secondaries,
)
from generated_fleet.defects.register import DEFECTS

__all__ = [
    "DEFECTS",
    "arresters",
    "bonding",
    "detection",
    "grounding_transformers",
    "inspection",
    "insulation",
    "mat",
    "neutral_devices",
    "record",
    "return_path",
    "secondaries",
]
