"""Distribution transformers in a neutral that a ground fault drives into saturation."""

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NGT1", "kind": "distribution_transformer", "primary_voltage": 13510.0}
DUTY = {"substation": "ELM", "neutral_device": "NGT1", "zone_kv": 18.0}  # 1.3 x 18 kV / sqrt(3) = 13.51 kV
GENERATOR = {"substation": "ELM", "generator": "G1", "device_substation": "ELM", "neutral_device": "NGT1"}
OF_ANOTHER = GENERATOR | {"device_substation": "OAK"}
EXACT = DUTY | {"zone_kv": 10 * 3**0.5}  # 10 kV line to neutral


def inventory(primary_voltage=13510.0, generator=GENERATOR, duty=DUTY, forcing=1.3, margin=0.99, kind=None):
    """A distribution transformer in the neutral of a generator."""
    return {
        "neutral_device": [DEVICE | {"primary_voltage": primary_voltage, "kind": kind or DEVICE["kind"]}],
        "neutral_duty": [duty],
        "generator_grounding": [generator],
        "policy": {"forcing": forcing, "margin": margin},
    }


RULE = Rule(
    title="The distribution transformer in the neutral saturates in a ground fault",
    severity="low",
    why="Rejected load or forced field raise the voltage of a machine while a ground fault stands. A transformer that "
    "saturates then no longer puts its resistor into the neutral, and can swing against the capacitance to ground.",
    basis="IEEE C37.101, rated primary voltage of the distribution transformer (recalled); 1.3 of field forcing: "
    "published sizing sheet",
    asks="neutral_device",
    inputs=("neutral_device.primary_voltage", "neutral_duty.zone_kv"),
    policy={"forcing": "generator.neutral_forcing", "margin": "neutral_device.voltage_margin"},
    query="""
        SELECT d.substation, 'neutral_device' AS asset_kind, d.neutral_device AS asset, 'kV' AS unit,
               -- Behind a generator its field forces the voltage up; elsewhere line-to-neutral voltage stands there.
               if(g.neutral_device IS NULL, $margin, $forcing) AS factor,
               d.primary_voltage / 1000         AS actual,
               factor * u.zone_kv / sqrt(3)     AS required,
               actual >= required               AS ok,
               u.zone_kv
        FROM inventory.neutral_device d
        LEFT JOIN study.neutral_duty u USING (substation, neutral_device)
        LEFT JOIN (SELECT DISTINCT device_substation, neutral_device FROM study.generator_grounding) g
               ON g.device_substation = d.substation AND g.neutral_device = d.neutral_device
        WHERE d.kind = 'distribution_transformer'
    """,
    message="the primary of {asset} is rated {actual} kV; in a ground fault {required} kV may stand there",
    formula="V_p >= f V_LL / sqrt(3), f = 1.3 behind a generator",
    working="V_LL / sqrt(3) = {zone_kv} kV / sqrt(3)\n"
    "f = {factor:g}\n"
    "f V_LL / sqrt(3) = {required} kV\n"
    "V_p = {actual} kV, on the nameplate",
    remedy="a distribution transformer of {required} kV primary or more, commonly line-to-line voltage, "
    "{zone_kv:g} kV; its secondary resistor then has to be sized anew",
    caution="Work on it only with the unit at a standstill and its field breaker open: its primary is the neutral of "
    "the machine.",
    cannot_see="Transformers bear somewhat more than their rated voltage before they saturate; the maker's curve "
    "decides.",
    examples={
        "satisfied: 13.51 kV at 18 kV": inventory(),
        "exception: 12 kV at 18 kV": inventory(12000.0),
        "satisfied: line-to-line voltage": inventory(18000.0),
        "satisfied: exactly what field forcing gives": inventory(20000.0, duty=EXACT, forcing=2.0),
        "exception: more forcing": inventory(forcing=1.5),
        "satisfied: not behind a generator, no forcing": inventory(10300.0, OF_ANOTHER),
        "exception: not behind a generator, below line-to-neutral voltage": inventory(10200.0, OF_ANOTHER),
        "satisfied: nor behind that of another device": inventory(10300.0, GENERATOR | {"neutral_device": "NGT2"}),
        "exception: a narrower margin": inventory(10300.0, OF_ANOTHER, margin=1.0),
        "not assessable: primary voltage not on record": inventory(None),
        "not assessable: voltage of the zone not known": inventory(duty=DUTY | {"zone_kv": None}),
        "not assessable: no duty computed": {"neutral_device": [DEVICE]},
        "not applicable: resistor": inventory(12000.0, kind="resistor"),
    },
)
