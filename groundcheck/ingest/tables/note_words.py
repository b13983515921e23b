"""Words by which rows that are no assets say so: totals, notes, legends, signatures, page footers, revisions."""

# Headings of a revision block or of a row of signatures.
REVISION_WORDS = frozenset(
    {
        *("rev", "revision", "issue", "version", "amendment", "change", "revision history", "rev no", "issue no"),
        *("date", "by", "drawn", "drawn by", "checked", "checked by", "approved", "approved by", "prepared by"),
        *("reviewed by", "authorised by", "authorized by", "signature", "signed", "initials", "description", "reason"),
        *("chkd", "appd", "chk", "app", "name", "comment", "comments", "details of change", "change description"),
    }
)

# Patterns in RE2's notation, matched against a row's first filled cell in lower or upper case.
TOTAL = (
    r"^\s*(?:(?:grand[ -]|sub[ -]?)?totals?\b|(?:sum|count|average|mean|overall)\b[^a-z]*$)"
    r"|\b(?:sub[ -]?)?totals?\s*:?\s*$"
)
NOTE = (
    r"^\s*(?:notes?\b|n\.?b\.?[ :]|remarks?\s*[:\d]|remarks?$|sources?\s*:|sources?$|legend\b|key\s*:|key$"
    r"|abbreviations?\b|prepared\b|checked\b|drawn by\b|approved\b|reviewed\b|authori[sz]ed\b|signed\b|signature\b"
    r"|issued\b|issue\s*:|revisions?\b|rev\b|end of\b|end$|page\s*\d|sheet\s*\d+\s*(?:of|/)|continued\b|cont'?d\b"
    r"|\d+\s*(?:of|/)\s*\d+$|printed\b|confidential\b|uncontrolled\b|all (?:values|ratings|voltages)\b|\*)"
)
