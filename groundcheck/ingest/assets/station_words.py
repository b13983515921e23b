"""The words of stations' names: which say only that it is one, which tell two apart, and which are abbreviated."""

# All of these: common practice, no source.
# Words that say only that a name is a station's. The first group is dropped at the beginning of a name too.
ANYWHERE = frozenset({"ss", "sstn", "sub", "subs", "substn", "substation"})
AFTERWARDS = frozenset({"station", "stn", "sta"})

# Words for what a station does in the network: two names with different ones are two stations.
ROLES = {"primary": "primary", "prim": "primary", "grid": "grid", "bsp": "grid", "gsp": "grid"}

# Words that tell neighboring stations apart, each with the one way in which it is compared.
APART = {
    "north": "north",
    "nth": "north",
    "n": "north",
    "south": "south",
    "sth": "south",
    "s": "south",
    "east": "east",
    "e": "east",
    "west": "west",
    "w": "west",
    "new": "new",
    "old": "old",
    "upper": "upper",
    "lower": "lower",
    "great": "great",
    "little": "little",
    "inner": "inner",
    "outer": "outer",
    "i": "1",
    "ii": "2",
    "iii": "3",
    "iv": "4",
}
NUMBER_SIGNS = frozenset({"no", "nr", "num", "number"})

# Short forms of words, in full. Saint and Street are both written St, so both are compared as that.
IN_FULL = {
    "saint": "st",
    "street": "st",
    "str": "st",
    "rd": "road",
    "ln": "lane",
    "av": "avenue",
    "ave": "avenue",
    "dr": "drive",
    "sq": "square",
    "mt": "mount",
    "jn": "junction",
    "hosp": "hospital",
    "ind": "industrial",
    "est": "estate",
    "center": "centre",
    "ctr": "centre",
}
