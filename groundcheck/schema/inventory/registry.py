"""The canonical tables by name, in the order in which a reader meets them."""

from groundcheck.schema.inventory.insulation import Arrester, Insulation
from groundcheck.schema.inventory.mat import Bond, GroundGrid, Inspection
from groundcheck.schema.inventory.neutrals import GroundingTransformer, NeutralDevice
from groundcheck.schema.inventory.secondary import GroundDetector, GroundRelay, InstrumentTransformer, SecondaryCircuit
from groundcheck.schema.inventory.sources import Generator, Infeed, Transformer
from groundcheck.schema.inventory.station import Bus, Line, Substation, Switch
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
