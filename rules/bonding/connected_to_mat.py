"""Equipment that is not connected to the mat."""

from groundcheck.audit import Rule

BOND = {
    "substation": "ELM",
    "bond": "B1",
    "equipment": "T1",
    "equipment_kind": "transformer",
    "connected_to_grid": True,
}

RULE = Rule(
    title="Equipment is not connected to the mat",
    severity="high",
    why="In a fault to its frame the equipment rises to the system's voltage to ground and stays there, for too little "
    "current flows to trip. Whoever touches it carries that current.",
    basis="IEEE Std 80, bonding of equipment frames to the grid (clause recalled)",
    asks="bond",
    inputs=("bond.connected_to_grid",),
    query="""
        SELECT b.substation, 'bond' AS asset_kind, b.bond AS asset,
               if(b.connected_to_grid, 'connected', 'not connected')  AS actual,
               'connected'          AS required,
               ''                   AS unit,
               b.connected_to_grid  AS ok,
               b.equipment, coalesce(replace(b.equipment_kind, '_', ' '), 'equipment') AS kind
        FROM inventory.bond b
    """,
    message="{kind} {equipment}: bond {asset} does not reach the mat",
    working="on record: {actual}\nrequired: {required}",
    remedy="connect {equipment} to the mat with a conductor sized for the ground-fault current, and measure the bond",
    caution="Treat the frame as live until it is bonded; bond it before touching it.",
    cannot_see="Other bonds of the same equipment are judged by themselves; a bond on record as connected may have "
    "corroded.",
    examples={
        "exception: not connected": {"bond": [BOND | {"connected_to_grid": False}]},
        "satisfied: connected": {"bond": [BOND]},
        "not assessable: nobody has said": {"bond": [BOND | {"connected_to_grid": None}]},
    },
)
