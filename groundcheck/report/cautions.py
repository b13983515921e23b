"""What every report says of itself: cautions, and what the words in it mean. The only place for this text."""

CAUTION_LINE = (
    "Caution: a screening of records, not a grounding study; treat every neutral, mat connection and "
    "instrument-transformer circuit as live until proven dead."
)

CAUTIONS = (
    "This is a screening of records. It replaces neither a grounding study nor a measurement in the field; a record "
    "that is sound on paper says nothing of the copper in the ground.",
    "Local codes, the owner's safety rules and the judgment of a licensed engineer govern. Where they differ from this "
    "report, they are right.",
    "Treat every neutral, every connection to the ground mat and every instrument-transformer circuit as live "
    "until it is proven dead: a neutral can rise to phase voltage while a fault is on.",
    "Never open the secondary of a current transformer in service: the voltage across the gap can kill and burn.",
    "Never disconnect a ground on energized plant to clear a finding. Take the plant out of service by the owner's "
    "switching rules first.",
    "A check that is not assessable is not passed. What was not checked matters as much as what failed.",
)

WORDS = (
    ("satisfied", "What is on record meets what the rule requires."),
    ("exception", "What is on record does not meet it. Each exception is one finding."),
    ("not assessable", "A field that the rule needs is not on record; the field and the cell to fill in are named."),
    ("not applicable", "The rule asks about this kind of asset, but not about this one."),
    (
        "firm",
        "The finding stands however the inputs vary within their tolerances, and what is assumed within its range.",
    ),
    (
        "marginal",
        "Within the tolerances of the inputs, and the range of what is assumed, the answer may be the other one: "
        "better data would settle it.",
    ),
    ("provisional", "The finding rests on an assumed typical value; see the sheet Assumptions."),
    (
        "waived",
        "A person has accepted the finding until a date, and takes the responsibility; the plant is as it was. The "
        "finding is open again the day after, or as soon as its numbers are worse than what was accepted.",
    ),
    ("quarantine", "The row can't be used as it stands. It is kept, feeds nothing, and waits for a correction."),
    (
        "blank in the study",
        "The text of a cell could not be read: the field counts as not on record. See Unread cells.",
    ),
)

HOW_TO_READ = (
    "Every number can be followed to its cell: beside the source, Exceptions names the cell and links to it as it was "
    "read, on the sheet Source rows, where the cited cells are shaded. The file itself is named, not linked: it may "
    "lie elsewhere for whoever reads this.",
    "Text from the records is shown as written. Control characters are removed, and text longer than a cell can hold "
    "is cut with a mark; the store keeps it whole.",
    "The shaded columns of Exceptions are to be filled in: choose accepted, corrected or disputed, with a name, a date "
    "and a remark, save the workbook, and give it to the next audit with --waivers. Sort whole rows only. A hidden "
    "column keeps what the audit wrote; leave it where it is. The columns right of the remark fold away, and are not "
    "printed. Where there is a sheet a district, fill in a finding there or on Exceptions: both are read.",
    "An identity of a finding stays the same from one audit to the next while its rule and its asset do.",
)
