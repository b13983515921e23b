"""The canonical tables by name, in the order in which a reader meets them."""

from groundcheck.schema.inventory.bonds import Bond
from groundcheck.schema.inventory.branches import Line, Switch
from groundcheck.schema.inventory.grounding_transformers import GroundingTransformer
from groundcheck.schema.inventory.inspections import Inspection
from groundcheck.schema.inventory.insulation import Arrester, Insulation
from groundcheck.schema.inventory.mat import GroundGrid
from groundcheck.schema.inventory.neutrals import NeutralDevice
from groundcheck.schema.inventory.relays import GroundDetector, GroundRelay
from groundcheck.schema.inventory.secondary import InstrumentTransformer, SecondaryCircuit
from groundcheck.schema.inventory.sources import Generator, Infeed
from groundcheck.schema.inventory.station import Bus, Substation
from groundcheck.schema.inventory.transformers import Transformer
from groundcheck.schema.table import InventoryTable

INVENTORY_TABLES: dict[str, type[InventoryTable]] = {
    model.asset_column(): model
    for model in (
        Substation,
        Bus,
        Infeed,
        Generator,
        Transformer,
        Line,
        Switch,
        NeutralDevice,
        GroundingTransformer,
        Arrester,
        Insulation,
        InstrumentTransformer,
        SecondaryCircuit,
        GroundRelay,
        GroundDetector,
        GroundGrid,
        Bond,
        Inspection,
    )
}
